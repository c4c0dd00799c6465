"""The file made of answers: read again, as measured, and near its twin with a full parts list."""

import numpy as np
import pytest

from sim.core.draw_layout import N_DRAW
from sim.describe import FileFault, data_folder, load_aeroplane
from sim.describe.edge_throws import angle_deg
from sim.describe.resolving import resolve_setup
from sim.describe.tray_checks import off_the_tray
from sim.fly.tunnel.coefficients import coefficients
from sim.landing.landing import set_up_forward
from sim.pack.assemble import assemble, flown_spreads, power_fit_of
from sim.pack.spreads import spreads_of
from sim.power.operating_point import operating_point
from sim.show.console.aeroplane.bench import reach_tables
from sim.show.console.console import render
from sim.show.words.bench.placing import back_text, tray_text
from sim.show.words.bench.throws import throws_of
from sim.show.words.started import started_lines
from sim.start.asking.answers import answers_from
from sim.start.asking.question import ALL
from sim.start.asking.relations import broken
from sim.start.controls import arm_mm, mean_chord, pivot_pct
from sim.start.driving import driven, packs_told
from sim.start.filled import Filled
from sim.start.filling import fill
from sim.start.heavy import parts
from sim.start.planform import Measured, from_the_side, size_at, strake_panel, to_the_middle
from sim.start.shaping import rudder_doubts, surfaces
from sim.start.writing import aeroplane_text
from sim.study.combinations import searches
from sim.study.own_study import study_of
from sim.trim.trimming import level, neutral_point_pct
from sim.weigh import weigh_set_up
from sim.weigh.plausible import doubts
from sim.weigh.reach import pack_reach

ANSWERS, _ = answers_from(data_folder("scenarios") / "answers" / "ruler_jet.toml")
# what another kind is asked besides
OTHERS = {
    "fan_jet": {}, "delta": {},
    "propeller_sport": {"propeller_in": 12.0, "pitch_in": 6.0, "kv_rpm_per_v": 650.0},
    "aerobatic": {"propeller_in": 13.0, "pitch_in": 6.5, "kv_rpm_per_v": 600.0},
    "glider": {"propeller_in": 11.0, "pitch_in": 6.0, "kv_rpm_per_v": 900.0, "fins": "2",
               "fin_apart_mm": 300.0, "fin_lean_deg": 10.0},
}  # fmt: skip


def made(folder, answers):
    path = folder / "jet.toml"
    path.write_text(aeroplane_text("jet", answers), encoding="utf-8")
    return load_aeroplane(path)


@pytest.fixture(scope="module")
def ruler_jet(tmp_path_factory):
    return made(tmp_path_factory.mktemp("ruler"), ANSWERS)


def test_what_was_measured_comes_out(ruler_jet):
    weighed = weigh_set_up(ruler_jet)
    assert 1000.0 * weighed.mass_kg == pytest.approx(2433.0)
    assert weighed.balance_aft_mm == pytest.approx(135.0)
    assert 1000.0 * weighed.reference.span_m == pytest.approx(1150.0, abs=1.0)
    assert doubts(ruler_jet, weighed) == []


def test_it_agrees_with_its_twin_of_a_full_parts_list_within_its_own_spread(ruler_jet):
    twin = load_aeroplane("display_jet")
    ours, full = assemble(ruler_jet), assemble(twin, "club")
    sd = {x.name: x.sd for x in ours.spreads}

    # half the trace less a moment of inertia is the second moment along that axis
    def seconds(x):
        inertia = np.diag(x.weighed.inertia_kg_m2)
        return 0.5 * inertia.sum() - inertia

    off = np.abs(seconds(ours) / seconds(full) - 1.0)
    names = ("spread_lengthwise", "spread_sideways", "spread_upwards")
    assert (off < [2.0 * sd[x] for x in names]).all()
    for x in names:
        assert sd[x] > next(s.sd for s in spreads_of(twin) if s.name == x)
    # x lies where the wing's edge meets the body, 43 mm behind the twin's datum
    points = []
    for ready, datum in ((ours, 0.043), (full, 0.0)):
        neutral, _ = neutral_point_pct(ready, level(ready, 18.0))
        points.append(ready.weighed.reference.aft_m(neutral) + datum)
    # one sd of wing and tail forces moves it by about 6 mm (arithmetic: 0.07 of a tail's fifth)
    assert points[0] == pytest.approx(points[1], abs=0.006)
    thrusts = [
        operating_point(ready.power, 1.0, 0.0, ready.density).thrust_n for ready in (ours, full)
    ]
    assert thrusts[0] / thrusts[1] == pytest.approx(1.0, abs=2.0 * sd["thrust"])


@pytest.mark.parametrize("kind", [x for x in ALL if x in OTHERS])
def test_every_kind_makes_a_file_that_can_be_read(tmp_path, kind):
    answers = {**ANSWERS, **OTHERS[kind], "kind": kind}
    aeroplane = made(tmp_path, answers)
    assert aeroplane.kind == kind
    assert bool(aeroplane.fans) == ("fan" in kind or kind == "delta")
    assert 1000.0 * weigh_set_up(aeroplane).mass_kg == pytest.approx(2433.0)


def test_what_is_left_blank_is_assumed_and_what_is_given_is_not(tmp_path):
    assert "bodies.body.stations" in fill(ANSWERS).assumed
    heights = {"front_height_mm": 110.0, "middle_height_mm": 114.0, "end_height_mm": 80.0}
    assert "bodies.body.stations" not in fill({**ANSWERS, **heights}).assumed
    bare = {k: v for k, v in ANSWERS.items() if k not in ("nozzle_mm", "controller_a")}
    filled = fill({**bare, "packs": ("6s 4000",), "fans": "2", "fan_apart_mm": 90.0})
    assert "fans.left fan.nozzle_mm" in filled.assumed
    assert "controllers.controller" in filled.assumed
    assert "packs.6s_4000.mass_g" in filled.from_box
    aeroplane = made(tmp_path, filled.answers)
    assert len(aeroplane.fans) == 2


def test_panels():
    # a plain wing of 1 m, body 100 mm wide: chord and edge carried on from the side to the middle
    panel = to_the_middle(Measured(0.0, 1000.0, 200.0, 110.0, 90.0), 50.0)
    assert panel.root_chord_mm == pytest.approx(210.0)
    assert panel.root_aft_mm == pytest.approx(-10.0)
    assert panel.panel_span_mm == pytest.approx(500.0)
    side = from_the_side(Measured(300.0, 400.0, 100.0, 80.0, 20.0), 40.0)
    assert (side.root_right_mm, side.panel_span_mm) == (40.0, 160.0)
    assert strake_panel(300.0, 60.0, 80.0).sweep_deg == pytest.approx(77.7, abs=0.2)
    cuts = fill(ANSWERS).cuts
    assert size_at(cuts, 0.0)[0] == 170.0
    assert size_at(cuts, 5000.0)[0] == 80.0


def test_labels():
    (pack,) = packs_told(["4s 2200"])
    # 241 g is usual for such a pack (common practice, no source)
    assert pack.mass_g == pytest.approx(241.0, rel=0.05)
    assert not pack.weighed
    first, second = packs_told(["6s 4000 640", "6s 4000 655"])
    assert first.name != second.name
    # an 80 mm fan of Kv 1750 on six cells draws some 60 A (common practice, no source)
    assert driven(80.0, 1750.0, 6).full_current_a == pytest.approx(60.0, rel=0.15)
    # a 12 x 6 in propeller on a Kv of 650 and four cells some 33 A
    assert driven(305.0, 650.0, 4, pitch_mm=152.0).full_current_a == pytest.approx(33.0, rel=0.2)


def test_thickness_and_angles_of_the_wing_may_be_measured(tmp_path):
    """By the sines of 2, 0.5 and -1 degrees over chords of 330, 170 and 160 mm (arithmetic)."""
    told = {"wing_thickness_mm": 33.0, "wing_lead_up_mm": 11.52, "tail_lead_up_mm": 1.48,
            "wing_tip_lead_up_mm": -2.79}  # fmt: skip
    aeroplane = made(tmp_path, {**ANSWERS, **told})
    wing = aeroplane.surfaces_as("wing")[0]
    assert wing.section.thickness_pct == pytest.approx(10.0)
    assert wing.incidence_deg == pytest.approx(1.5, abs=0.05)  # to the tailplane
    assert wing.washout_deg == pytest.approx(3.0, abs=0.05)
    assert "surfaces.wing.section.camber_pct" in aeroplane.assumed
    assert not {"surfaces.wing.incidence_deg", "surfaces.wing.washout_deg"} & set(aeroplane.assumed)
    # what is known is drawn no wider for it: the stall by the camber alone
    spreads = [
        next(x.sd for x in spreads_of(a) if x.name == "stall_angle")
        for a in (aeroplane, made(tmp_path, ANSWERS))
    ]
    assert spreads[0] < spreads[1]
    # by a straight edge symmetrical: of what was measured nothing is left to be measured again
    even = {**ANSWERS, **told, "wing_section": "symmetrical"}
    assert not [x for x in fill(even).assumed if x.startswith("surfaces.wing.section")]
    del even["wing_thickness_mm"]
    assert "surfaces.wing.section.thickness_pct" in fill(even).assumed
    for seen in ("semi_symmetrical", "flat_bottom"):
        # by eye it is not told how much
        half = fill({**ANSWERS, **told, "wing_section": seen})
        assert "surfaces.wing.section.camber_pct" in half.assumed
    untold = fill({**ANSWERS, "tail_lead_up_mm": 2.0}).assumed
    assert {"surfaces.wing.section", "surfaces.wing.incidence_deg"} <= set(untold)
    faults = dict(broken({**ANSWERS, **told, "tail_lead_up_mm": -40.0, "wing_thickness_mm": 3.0}))
    assert set(faults) == {"tail_lead_up_mm", "wing_thickness_mm"}


def test_landing_flaps_lie_between_body_and_aileron(tmp_path):
    told = {"flap_width_mm": 42.0, "flap_inner_mm": 115.0, "flap_outer_mm": 300.0,
            "flap_down_deg": 30.0}  # fmt: skip
    aeroplane = made(tmp_path, {**ANSWERS, **told})
    aileron, flap = aeroplane.surfaces_as("wing")[0].controls
    # of half the span, 575 mm (arithmetic)
    assert flap.inner_pct == pytest.approx(20.0, abs=0.1)
    assert flap.outer_pct == pytest.approx(52.2, abs=0.1)
    assert flap.outer_pct <= aileron.inner_pct
    assert (aeroplane.channels["flap"].up_deg, aeroplane.channels["flap"].down_deg) == (0.0, 30.0)
    # ends left blank, and one that reaches beyond where the kind's aileron usually begins
    for changed in ({"flap_inner_mm": None, "flap_outer_mm": None}, {"flap_outer_mm": 400.0}):
        answers = {k: v for k, v in {**ANSWERS, **told, **changed}.items() if v is not None}
        aileron, flap = made(tmp_path, answers).surfaces_as("wing")[0].controls
        assert flap.outer_pct == pytest.approx(aileron.inner_pct)
    faults = dict(broken({**told, "aileron_inner_mm": 290.0}))
    assert faults == {
        "flap_outer_mm": "must not reach beyond where the aileron begins, 290 mm; got 300"
    }
    assert "flap" not in made(tmp_path, ANSWERS).channels


def test_a_pull_off_a_data_sheet_is_drawn_as_wide_as_without_one(tmp_path):
    pull = {"static_thrust_g": 2400.0, "static_current_a": 62.0}
    sheet = made(tmp_path, {**ANSWERS, **pull, "static_from": "data_sheet"})
    assert {"measured.static_thrust_g", "measured.static_current_a"} <= set(sheet.from_box)
    assert sheet.measured.static_thrust_g == 2400.0
    sds = [
        next(x.sd for x in flown_spreads(x) if x.name == "thrust")
        for x in (sheet, made(tmp_path, {**ANSWERS, **pull}), made(tmp_path, ANSWERS))
    ]
    assert sds[0] == sds[2] > sds[1]


def test_wheels_without_their_places_are_told(tmp_path):
    path = tmp_path / "jet.toml"
    path.write_text(aeroplane_text("jet", {**ANSWERS, "wheels": "nose"}), encoding="utf-8")
    assert "It has wheels, but where they touch the ground is not told" in path.read_text()
    lines = started_lines(load_aeroplane(path), path, 0, 0.0, wheeled=True)
    assert any("[undercarriage] in the file has place for it" in line for line in lines)


def test_a_balance_far_aft_for_how_it_looks_is_told_once_more(tmp_path):
    """Common practice, no source: a static margin of 5 to 15 % and more."""
    told = []
    for back in (ANSWERS["balance_back_mm"], ANSWERS["balance_back_mm"] + 130.0):
        path = tmp_path / f"jet_{back:g}.toml"
        path.write_text(
            aeroplane_text("jet", {**ANSWERS, "balance_back_mm": back}), encoding="utf-8"
        )
        told.append(" ".join(started_lines(load_aeroplane(path), path, 0, 0.0)))
    assert "CAREFUL" not in told[0]
    assert "CAREFUL: roughly reckoned its static margin is" in told[1]


def test_a_larger_throw_that_is_wished_for_is_flown_beside_today_s(tmp_path):
    answers = {**ANSWERS, "pivot_back_mm": 70.0}
    # the whole tailplane, 170 - 70 mm from its pivot: 30 mm are 17.46 degrees (arithmetic)
    answers |= {"elevator_more_up_deg": angle_deg(30.0, 100.0)}
    aeroplane = made(tmp_path, answers)
    today, more = (resolve_setup(aeroplane, name) for name in ("today", "more_throw"))
    assert more.throws["elevator"].up_deg == pytest.approx(17.46, abs=0.01)
    assert more.throws["elevator"].down_deg == today.throws["elevator"].down_deg == 12.0
    assert more.title == "more elevator throw: 17.46 degrees (30.0 mm) up, 12.0 down"
    study = study_of(aeroplane, tmp_path / "jet.toml").study
    assert [x.name for x in study.setups[:3]] == ["today", "more_throw", "aft_5_mm"]
    balances = [weigh_set_up(aeroplane, x).balance_aft_mm for x in study.setups[:2]]
    assert balances[0] == pytest.approx(balances[1])
    # may it be used? its own limit tells, with the pack it is flown with
    asked = [(pack, x.like) for pack, x in searches(aeroplane, study)]
    own = weigh_set_up(aeroplane, study.setups[1]).setup.pack
    assert asked == [*((pack, "today") for pack in aeroplane.packs), (own, "more_throw")]
    assert "may balance, and as more_throw." in study.story
    assert "more_throw" not in made(tmp_path, ANSWERS).setups
    faults = dict(broken({**ANSWERS, "elevator_more_up_deg": 13.0}))
    assert faults == {"elevator_more_up_deg": "must be more than today's, 14 degrees; got 13"}


RULED = {
    "aileron_width_mm": 38.0, "aileron_inner_mm": 300.0, "aileron_outer_mm": 545.0,
    "pivot_back_mm": 70.0, "rudder_width_mm": 45.0, "servo_torque_ncm": 21.6,
    "static_thrust_g": 2300.0, "static_current_a": 62.0,
}  # fmt: skip


def test_throws_on_the_bench_are_those_that_the_ruler_read(tmp_path):
    travel = {"aileron_up_deg": 11.0, "aileron_down_deg": 10.0, "elevator_up_deg": 17.0,
              "elevator_down_deg": 15.0, "rudder_deg": 18.0}  # fmt: skip
    answers = {**ANSWERS, **RULED}
    answers |= {key: angle_deg(mm, arm_mm(key, answers)) for key, mm in travel.items()}
    aeroplane = made(tmp_path, answers)
    read = {x.channel: (x.up_mm, x.down_mm) for x in throws_of(aeroplane, resolve_setup(aeroplane))}
    for name, mm in {
        "aileron": (11.0, 10.0),
        "elevator": (17.0, 15.0),
        "rudder": (18.0, 18.0),
    }.items():
        assert read[name] == pytest.approx(mm, abs=0.1)
    (flap,) = aeroplane.surfaces[0].controls
    # chords there by straight taper, 85 mm half a body: 237 and 165 mm; the edge leans 8.6 degrees
    assert flap.chord_pct == pytest.approx(100.0 * 38.0 / 0.989 * (1 / 250 + 1 / 173) / 2, rel=0.06)
    measured = aeroplane.measured
    assert (measured.static_thrust_g, measured.static_current_a) == (2300.0, 62.0)
    filled = fill(answers)
    assert {"surfaces.wing.controls", "surfaces.tail.controls"}.isdisjoint(filled.assumed)
    assert "surfaces.fin.controls" in filled.assumed  # its ends were left out
    assert "servo_types.servo.torque_ncm" in filled.from_box


def test_gains_that_were_measured_are_not_assumed(tmp_path):
    gains = {"gyro_roll_gain": 0.03, "gyro_pitch_gain": 0.02, "gyro_yaw_gain": 0.05}
    aeroplane = made(tmp_path, {**ANSWERS, **gains})
    gyro = aeroplane.gyro
    assert (gyro.roll_gain, gyro.pitch_gain, gyro.yaw_gain) == (0.03, 0.02, 0.05)
    assert "gyro" not in aeroplane.assumed
    assert "gyro" in fill({**ANSWERS, "gyro_roll_gain": 0.03}).assumed


def test_a_pivot_is_a_share_of_the_mean_chord():
    # an untapered panel without sweep: 50 of 200 mm
    panel = from_the_side(Measured(0.0, 800.0, 200.0, 200.0, 0.0), 0.0)
    assert pivot_pct(50.0, panel) == pytest.approx(25.0)


def test_a_fan_nobody_measured_lies_where_it_usually_does():
    bare = fill({k: v for k, v in ANSWERS.items() if k != "fan_back_mm"})
    assert "fans.fan.aft_mm" in bare.assumed
    # the display jet's lies 192 mm behind x (its drawing)
    assert bare.fan_back_mm == pytest.approx(192.0, abs=30.0)
    assert parts(bare)[0].aft_mm > bare.fan_back_mm


LONG = ("4s 2200 230 100mm", "4s 3300 320 120mm", "4s 4000 400 140mm")


def with_lengths(kind="aerobatic", **more):
    """Return answers of a model whose packs were all measured, the middle one in it."""
    return {
        **ANSWERS, "kind": kind, "tail_moves": "elevator", **OTHERS[kind], "packs": LONG,
        "pack_in_it": 2.0, "pack_back_mm": -200.0, "tray_front_mm": -250.0, "tray_rear_mm": -150.0,
        **more,
    }  # fmt: skip


def test_each_pack_reaches_as_far_as_its_length_lets_it(tmp_path):
    model = made(tmp_path, with_lengths())
    # the tray runs 50 mm, half of the shortest pack, beyond where that one's middle may lie
    assert (model.tray.ends, model.tray.front_aft_mm, model.tray.rear_aft_mm) == (
        "edges", -300.0, -100.0,
    )  # fmt: skip
    reach = {x.pack: x for x in (pack_reach(model, resolve_setup(model, "today"), p)
                                 for p in model.packs)}  # fmt: skip
    ends = {name: (x.front_mm, x.rear_mm) for name, x in reach.items()}
    assert ends == {"4s_2200": (-250.0, -150.0), "4s_3300": (-240.0, -160.0),
                    "4s_4000": (-230.0, -170.0)}  # fmt: skip
    for x in reach.values():
        # moments: the pack's share of the weight of its way
        whole = 2433.0 - model.packs["4s_3300"].mass_g + model.packs[x.pack].mass_g
        share = model.packs[x.pack].mass_g / whole
        way = share * (x.rear_mm - x.front_mm)
        assert x.rearmost_mm - x.foremost_mm == pytest.approx(way, rel=1e-6)
    assert [model.packs[x].length_mm for x in model.packs] == [100.0, 120.0, 140.0]
    told = render(reach_tables([reach["4s_4000"]]))
    assert "-230 to -170" in told
    assert not any("length_mm" in key for key in model.assumed)


def test_a_pack_off_its_own_reach_is_refused(tmp_path):
    text = aeroplane_text("jet", with_lengths()).replace(
        "pack_aft_mm = -200.0", "pack_aft_mm = -245"
    )
    path = tmp_path / "jet.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(FileFault, match="from -240 to -160 mm; got -245"):
        load_aeroplane(path)
    long = aeroplane_text("jet", with_lengths()).replace("length_mm = 140.0", "length_mm = 210.0")
    path.write_text(long, encoding="utf-8")
    with pytest.raises(
        FileFault, match="must be less than the tray, 200 mm from end to end; got 210"
    ):
        load_aeroplane(path)


def test_without_all_lengths_the_tray_is_one_for_all_and_the_length_is_assumed(tmp_path):
    packs = (*LONG[:2], "4s 4000 400")
    model = made(tmp_path, with_lengths(packs=packs))
    assert (model.tray.ends, model.tray.front_aft_mm) == ("centre", -250.0)
    assert "packs.4s_4000.length_mm" in model.assumed
    assert "packs.4s_3300.length_mm" not in model.assumed


def test_a_cards_mark_is_right_to_the_ruler_or_says_that_it_is_none(tmp_path):
    model = made(tmp_path, with_lengths())
    told = tray_text(model, "4s_3300", -200.0)
    assert told.startswith("front edge 260 mm ahead of the datum, centre 200 mm ahead")
    assert told.endswith("40 mm back from as far forward as it goes")
    assert back_text(model, "4s_4000", -230.0) == "as far forward as it goes"
    rough = made(tmp_path, with_lengths(packs=("4s 3300 320",), pack_in_it=1.0))
    assert "NOT MEASURED" in tray_text(rough, "4s_3300", -200.0)
    assert "mark its centre" in tray_text(rough, "4s_3300", -200.0)


WHEELS = {"wheels": "tail", "main_wheel_back_mm": 10.0, "main_wheel_down_mm": 190.0}


def test_a_tail_wheel_need_not_be_measured_and_is_told_as_assumed(tmp_path):
    model = made(tmp_path, with_lengths(**WHEELS))
    gear = model.undercarriage
    assert (gear.main_aft_mm, gear.main_up_mm) == (10.0, -190.0)
    # 1360 of body less 643 of it ahead of x
    assert gear.tail_aft_mm == pytest.approx(717.0)
    assert {"undercarriage.tail_aft_mm", "undercarriage.tail_up_mm"} <= {*model.assumed}
    full = {"third_wheel_back_mm": 700.0, "third_wheel_down_mm": 60.0}
    measured = made(tmp_path, with_lengths(**WHEELS, **full))
    assert measured.undercarriage.tail_aft_mm == 700.0
    assert not any(key.startswith("undercarriage") for key in measured.assumed)
    # nothing that is flown hangs on it: as far forward, by the same draws, it lands alike
    draws = np.zeros((128, N_DRAW))
    both = (model, measured)
    one, two = (set_up_forward(x, resolve_setup(x, "today"), draws, 95.0) for x in both)
    assert one.aft_mm is not None
    assert one.aft_mm == two.aft_mm


def test_wheels_half_known_are_left_out(tmp_path):
    nose = with_lengths(**{**WHEELS, "wheels": "nose"})
    assert made(tmp_path, nose).undercarriage is None
    assert made(tmp_path, with_lengths(wheels="tail")).undercarriage is None


def test_heights_said_stand_in_the_field_and_usual_ones_as_a_comment(tmp_path):
    field = made(tmp_path, with_lengths(floor_m=30.0, ceiling_m=100.0)).field
    assert (field.floor_m, field.ceiling_m) == (30.0, 100.0)
    text = aeroplane_text("jet", with_lengths())
    assert "# floor_m = 40.0" in text
    assert "# ceiling_m = 120.0" in text
    assert made(tmp_path, with_lengths()).field.ceiling_m is None


def test_a_fan_jets_strake_is_a_surface_of_its_own_and_a_gliders_is_none():
    jet = fill(ANSWERS)
    assert isinstance(jet, Filled)
    assert [x.role for x in surfaces(jet)] == ["wing", "strake", "tail", "fin"]
    assert [x.role for x in surfaces(fill(with_lengths("glider")))] == ["wing", "tail", "fin"]


def test_a_pack_named_by_likeness_is_held_to_its_own_reach():
    raw = {
        "tray": {"front_aft_mm": -300.0, "rear_aft_mm": -100.0, "ends": "edges"},
        "packs": {"short": {"length_mm": 100.0}, "long": {"length_mm": 160.0}},
        "setups": {"today": {"pack": "long"}},
    }
    assert not list(off_the_tray({"like": "today", "pack_aft_mm": -220.0}, "x", raw))
    (fault,) = off_the_tray({"like": "today", "pack_aft_mm": -230.0}, "x", raw)
    assert fault.text == "must lie on the tray, from -220 to -180 mm; got -230"
    assert not list(off_the_tray({"pack": "short", "pack_aft_mm": -230.0}, "x", raw))


# a delta of a foam plate, 8 mm, that a propeller pushes; elevons 48 mm wide all along
PUSHED = {
    **{k: v for k, v in ANSWERS.items() if not k.startswith(("fan", "nozzle", "tail", "strake"))},
    "kind": "delta", "driven_by": "propeller", "propeller_in": 7.0, "pitch_in": 5.0,
    "propeller_back_mm": 557.0, "propeller_up_mm": 12.0, "kv_rpm_per_v": 1250.0,
    "wing_span_mm": 905.0, "wing_root_chord_mm": 526.0, "wing_tip_chord_mm": 135.0,
    "wing_tip_back_mm": 382.0, "wing_tip_up_mm": 0.0, "middle_width_mm": 62.0,
    "wing_thickness_mm": 8.0, "wing_section": "flat_plate", "wing_edge": "round",
    "aileron_width_mm": 48.0, "aileron_inner_mm": 90.0, "aileron_outer_mm": 430.0,
    "aileron_up_deg": angle_deg(17.0, 48.0), "elevator_up_deg": angle_deg(14.0, 48.0),
    "elevator_down_deg": angle_deg(14.0, 48.0),
}  # fmt: skip


def test_a_propeller_turns_where_it_was_measured(tmp_path):
    delta = made(tmp_path, PUSHED)
    assert not delta.fans
    (one,) = delta.propellers
    assert (one.aft_mm, one.up_mm, one.thrust_tilt_deg) == (557.0, 12.0, 0.0)
    assert delta.propeller_units[one.propeller].diameter_mm == pytest.approx(177.8)
    heavy = next(x for x in delta.parts if x.name == "motor and propeller")
    assert (heavy.aft_mm, heavy.up_mm) == (557.0, 12.0)
    sport = {**ANSWERS, **OTHERS["propeller_sport"], "kind": "propeller_sport"}
    assert made(tmp_path, sport).propellers[0].aft_mm == -ANSWERS["nose_ahead_mm"]
    assert made(tmp_path, {**sport, "propeller_back_mm": 100.0}).propellers[0].aft_mm == 100.0


def test_a_foam_plate_is_as_thick_as_it_is_on_its_mean_chord(tmp_path):
    wing = made(tmp_path, PUSHED).surfaces_as("wing")[0]
    # mean chord of 555 and 135 mm: 2/3 (555 + 135 - 555 x 135 / 690) = 387 mm (arithmetic)
    assert wing.section.thickness_pct == pytest.approx(800.0 / 387.0, abs=0.06)
    assert (wing.section.edge, wing.section.camber_pct) == ("round", 0.0)
    assert not list(broken(PUSHED))
    assert "wing_thickness_mm" in dict(broken({**PUSHED, "wing_thickness_mm": 4.0}))
    text = aeroplane_text("jet", {**PUSHED, "wing_thickness_mm": 6.0})
    assert 'edge = "round" }  # thinner than 2 %: stalls as one of 2 % does' in text
    bare = {k: v for k, v in PUSHED.items() if k != "wing_edge"}
    assert 'edge = "sharp" }  # its edge is usual for the kind: look at it' in aeroplane_text(
        "jet", bare
    )


def test_a_flap_of_constant_width_has_its_area_on_a_tapered_wing(tmp_path):
    wing = made(tmp_path, PUSHED).surfaces_as("wing")[0]
    taper = (wing.root_chord_mm - wing.tip_chord_mm) / wing.panel_span_mm

    def chord(pct):
        return wing.root_chord_mm - taper * 0.01 * pct * wing.panel_span_mm

    area = 0.0
    for x in wing.controls:
        ends = [0.01 * x.chord_pct * chord(at) for at in (x.inner_pct, x.outer_pct)]
        assert all(abs(end - 48.0) < 12.0 for end in ends)
        area += 0.01 * (x.outer_pct - x.inner_pct) * wing.panel_span_mm * sum(ends) / 2.0
    assert area == pytest.approx(48.0 * 340.0, rel=0.02)  # its edge leans by a degree
    assert [x.width_mm for x in wing.controls] == [48.0, None, None]
    inner = [x.inner_pct for x in wing.controls]
    assert inner[1:] == [x.outer_pct for x in wing.controls][:-1]


def test_a_delta_may_try_more_elevator_throw_with_its_ailerons_as_they_are(tmp_path):
    delta = made(tmp_path, {**PUSHED, "elevator_more_up_deg": angle_deg(22.0, 48.0)})
    read = {
        name: {x.stick: (x.up_mm, x.down_mm) for x in throws_of(delta, resolve_setup(delta, name))}
        for name in ("today", "more_throw")
    }
    assert read["today"]["elevator"] == pytest.approx((14.0, 14.0), abs=0.1)
    assert read["more_throw"]["elevator"] == pytest.approx((22.0, 22.0), abs=0.1)
    for name in read:
        assert read[name]["aileron"] == pytest.approx((17.0, 17.0), abs=0.1)


def test_a_delta_is_told_what_its_pilot_can_hold_against_the_answers(tmp_path):
    told = " ".join(started_lines(made(tmp_path, PUSHED), tmp_path / "x.toml", 0, 0.0))
    # 31 of 421.5 mm of half span carried on: the edge runs 28 mm further ahead (arithmetic)
    front = ANSWERS["balance_back_mm"] + 382.0 * 31.0 / 421.5
    assert f"Balanced {front:.0f} mm behind the wing's front point, in the middle" in told
    assert "Weighed with 6s_4000 in it, 640 g: 1793 g without a pack" in told


APART = {
    "controller_at": "58 g, -130 mm", "receiver_at": "14 g, 60 mm",
    "wheels": "tail", "main_wheel_back_mm": 24.0, "main_wheel_down_mm": 150.0,
    "undercarriage_at": "92 g, 300 mm", "wing_servo_at": "300 mm, 150 mm",
    "tail_servo_back_mm": 260.0,
}  # fmt: skip


def test_what_is_weighed_apart_is_a_part_and_the_rest_so_much_less(tmp_path):
    plain = {**ANSWERS, **OTHERS["aerobatic"], "kind": "aerobatic"}
    aeroplane = made(tmp_path, {**plain, **APART})
    part = {x.name: x for x in aeroplane.parts}
    assert (part["controller"].mass_g, part["controller"].aft_mm) == (58.0, -130.0)
    assert (part["receiver"].mass_g, part["receiver"].aft_mm) == (14.0, 60.0)
    assert (part["wing servo"].right_mm, part["wing servo"].aft_mm) == (300.0, 150.0)
    assert part["tail servo"].aft_mm == part["fin servo"].aft_mm == 260.0
    legs = part["undercarriage"]
    assert (legs.mass_g, legs.aft_mm, legs.length_mm, legs.along) == (92.0, 24.0, 300.0, "right")
    # half-way from the body's underside to the ground
    under = 0.5 * size_at(fill(plain).cuts, 24.0)[1]
    assert legs.up_mm == pytest.approx(-0.5 * (under + 150.0), abs=0.06)
    assert {x.name for x in aeroplane.parts if x.fitting} == {
        "controller", "receiver", "undercarriage",
    }  # fmt: skip
    rest = [
        sum(row.mass_kg for row in weigh_set_up(x).rows if row.kind == "airframe")
        for x in (aeroplane, made(tmp_path, plain))
    ]
    assert rest[1] - rest[0] == pytest.approx(1e-3 * (58.0 + 14.0 + 92.0))
    assert weigh_set_up(aeroplane).balance_aft_mm == pytest.approx(ANSWERS["balance_back_mm"])
    # the weight alone of its legs
    alone = made(tmp_path, {**plain, **APART, "undercarriage_at": "92 g"})
    assert next(x for x in alone.parts if x.name == "undercarriage").shape == "point"


def test_what_was_measured_of_its_power_stands_under_measured(tmp_path):
    told = {"static_current_a": 62.0, "pack_v": 20.9, "top_speed_mps": 45.0,
            "cruise_at": "45, 22 m/s", "charged_at": "1500, 6"}  # fmt: skip
    measured = made(tmp_path, {**ANSWERS, **told}).measured
    assert (measured.static_current_a, measured.pack_v) == (62.0, 20.9)
    assert measured.top_speed_mps == 45.0
    assert (measured.cruise_throttle_pct, measured.cruise_speed_mps) == (45.0, 22.0)
    assert (measured.mah_put_back, measured.after_minutes) == (1500.0, 6.0)
    # the volts count: the fit meets the current at them, and not at those of a fresh pack
    low, high = (
        power_fit_of(made(tmp_path, {**ANSWERS, "static_current_a": 62.0, "pack_v": volts}))
        for volts in (20.0, 23.0)
    )
    assert (low.bench_v, high.bench_v) == (20.0, 23.0)
    after = [next(x.after for x in fit.moved if x.name == "efficiency") for fit in (low, high)]
    assert after[0] != pytest.approx(after[1], rel=0.01)


def test_a_rudder_below_its_fin_is_a_surface_that_turns_with_it(tmp_path):
    """Common practice, no source: area below the tailplane keeps its air in a spin.

    A rudder of constant width 60 mm, 60 of its 260 mm below the fin: 30 % more than of the rest.
    """
    plain = {**ANSWERS, **OTHERS["aerobatic"], "kind": "aerobatic", "fin_height_mm": 200.0,
             "fin_back_mm": 560.0, "rudder_width_mm": 60.0, "rudder_outer_mm": 200.0}  # fmt: skip
    above = made(tmp_path, {**plain, "rudder_inner_mm": 0.0})
    whole = made(tmp_path, {**plain, "rudder_inner_mm": -60.0})
    fin, below = whole.surfaces_as("fin")
    assert (below.panel_span_mm, below.root_chord_mm, below.tip_chord_mm) == (60.0, 60.0, 60.0)
    # from its lowest end up, so that its trailing edge goes the same way as the rest
    assert below.dihedral_deg == 90.0
    assert below.root_up_mm == pytest.approx(fin.root_up_mm - 60.0, abs=0.06)
    assert below.controls[0].pivot_pct == 0.0
    # its trailing edge carries on that of the fin, straight
    slope = np.tan(np.radians(fin.sweep_deg))
    slope -= (fin.root_chord_mm - fin.tip_chord_mm) / fin.panel_span_mm
    foot = fin.root_aft_mm + fin.root_chord_mm
    assert below.root_aft_mm + 60.0 == pytest.approx(foot - 60.0 * slope, abs=1.5)
    assert fin.controls[0].width_mm == above.surfaces_as("fin")[0].controls[0].width_mm == 60.0
    assert [x.name for x in whole.parts] == [x.name for x in above.parts]
    turned = [
        coefficients(x, alpha_deg=alpha, deflections_deg={"rudder": 20.0}, speed_mps=15.0).Cn
        for x in (above, whole)
        for alpha in (3.0, 60.0)
    ]
    assert 1.1 < turned[2] / turned[0] < 1.6
    assert turned[3] > turned[1] > 0.0
    # as deep as a file may have it, or not at all
    shallow = made(tmp_path, {**plain, "rudder_inner_mm": -10.0})
    assert len(shallow.surfaces_as("fin")) == 1


def test_a_rudder_below_its_fin_that_lies_in_the_body_is_doubted():
    told = {**ANSWERS, "fins": "1", "rudder_width_mm": 60.0, "rudder_inner_mm": -60.0}
    end = ANSWERS["body_length_mm"] - ANSWERS["nose_ahead_mm"]
    hinge = end - ANSWERS["fin_root_chord_mm"] + 60.0
    assert not rudder_doubts(fill({**told, "fin_back_mm": hinge + 60.0}))
    (doubt,) = rudder_doubts(fill({**told, "fin_back_mm": hinge - 100.0}))
    assert "inside the body: look at fin_back_mm" in doubt


def test_angles_are_told_in_one_way_alone(tmp_path):
    text = aeroplane_text("own", {**ANSWERS, "lead_g": 38.0, "lead_back_mm": 620.0})
    assert "how far the root is set nose up, in degrees, against the tailplane" in text
    for line in text.splitlines():
        if line.startswith(("incidence_deg", "washout_deg")):
            told = line.partition("#")[2].strip()
            assert told in ("", "usual for the kind: measure it", "the wing's is told against it")
    # 5 mm over 290 are a degree (arithmetic)
    assert np.degrees(np.arcsin(5.0 / 290.0)) == pytest.approx(1.0, abs=0.02)


def test_the_file_says_how_to_fly_another_pack_without_the_lead(tmp_path):
    told = {**ANSWERS, "lead_g": 38.0, "lead_back_mm": 620.0}
    text = aeroplane_text("own", told)
    lines = text.splitlines()
    other = next(x for x in fill(told).packs if x.name != fill(told).pack_in_it.name)
    assert f'Another pack: write beneath them  pack = "{other.name}"' in text
    at = lines.index("# [setups.without_lead]")
    lines[at : at + 4] = [x.removeprefix("# ") for x in lines[at : at + 4]]
    lines.insert(at + 4, f'pack = "{other.name}"')
    path = tmp_path / "own.toml"
    path.write_text("\n".join(lines), encoding="utf-8")
    assert weigh_set_up(load_aeroplane(path), "without_lead").setup.pack == other.name
    alone = {**told, "packs": told["packs"][:1], "pack_in_it": 1.0}
    assert "Another pack" not in aeroplane_text("own", alone)


def test_a_propeller_at_the_nose_pulls_as_is_usual_wherever_its_blades_were_measured(tmp_path):
    sport = {**ANSWERS, **OTHERS["propeller_sport"], "kind": "propeller_sport"}
    ahead = ANSWERS["nose_ahead_mm"] + 40.0
    tilts = [
        made(tmp_path, {**sport, **told}).propellers[0].thrust_tilt_deg
        for told in ({}, {"propeller_back_mm": -ahead}, {"propeller_back_mm": 100.0})
    ]
    assert tilts[0] == tilts[1] > tilts[2] == 0.0


def test_lead_is_a_loose_weight_of_today_and_the_file_says_how_to_fly_without_it(tmp_path):
    """Taken out, the rest of the aeroplane stays as it was weighed (moments, arithmetic)."""
    told = {**ANSWERS, "lead_g": 38.0, "lead_back_mm": 620.0}
    path = tmp_path / "own.toml"
    text = aeroplane_text("own", told)
    lines = text.splitlines()
    at = lines.index("# [setups.without_lead]")
    lines[at : at + 4] = [x.removeprefix("# ") for x in lines[at : at + 4]]
    path.write_text("\n".join(lines), encoding="utf-8")
    aeroplane = load_aeroplane(path)
    with_it, without = (weigh_set_up(aeroplane, x) for x in ("today", "without_lead"))
    mass, back = ANSWERS["mass_g"], ANSWERS["balance_back_mm"]
    assert (with_it.mass_kg, with_it.balance_aft_mm) == pytest.approx((1e-3 * mass, back))
    assert without.mass_kg == pytest.approx(1e-3 * (mass - 38.0))
    assert without.balance_aft_mm == pytest.approx((mass * back - 38.0 * 620.0) / (mass - 38.0))
    study = study_of(aeroplane, path).study
    assert [x.name for x in study.setups[:2]] == ["today", "without_lead"]
    assert [c.like for _, c in searches(aeroplane, study)][-1] == "without_lead"


def test_a_throw_in_mm_of_a_tail_whose_pivot_was_left_blank_is_read_about_the_usual_one():
    whole = {**ANSWERS, "tail_moves": "whole"}
    assert arm_mm("elevator_up_deg", {**whole, "pivot_back_mm": 70.0}) == 100.0
    blank = {key: value for key, value in whole.items() if key != "pivot_back_mm"}
    # a quarter of the mean chord behind its leading edge: common practice, no source
    sizes = (blank[f"tail_{x}_mm"] for x in ("span", "root_chord", "tip_chord", "tip_back"))
    lead, mean = mean_chord(from_the_side(Measured(0.0, *sizes), 0.0))
    arm = arm_mm("elevator_up_deg", blank)
    assert arm == pytest.approx(blank["tail_root_chord_mm"] - lead - 0.25 * mean)
    told = aeroplane_text("jet", blank)
    assert "# Of the whole tailplane they are about the usual pivot, not measured.\n" in told
    assert "about the usual pivot" not in aeroplane_text("jet", {**blank, "pivot_back_mm": 70.0})
    assert arm_mm("elevator_up_deg", {"kind": "fan_jet", "tail_moves": "whole"}) is None


def test_the_foot_of_the_fins_is_where_the_ruler_found_it():
    def foot(**more):
        answers = {**ANSWERS, "fins": "2", "fin_apart_mm": 262.0, **more}
        told = surfaces(fill(answers))
        return next(x for x in told if x.role == "fin").panel.root_up_mm

    assert foot(fin_foot_up_mm=45.0) == 45.0
    assert 0.0 < foot() < 45.0  # low on the sides of a body of 78 mm there
