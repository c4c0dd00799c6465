"""The file made of answers: read again, as measured, and near its twin with a full parts list."""

import numpy as np
import pytest

from sim.describe import data_folder, load_aeroplane
from sim.pack.assemble import assemble
from sim.pack.spreads import spreads_of
from sim.power.operating_point import operating_point
from sim.start.answers import answers_from
from sim.start.driving import driven, packs_told
from sim.start.filling import fill
from sim.start.planform import Measured, from_the_side, size_at, strake_panel, to_the_middle
from sim.start.questions import ALL
from sim.start.writing import aeroplane_text
from sim.trim.trimming import level, neutral_point_pct
from sim.weigh import weigh_set_up
from sim.weigh.plausible import doubts

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
