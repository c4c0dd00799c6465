"""Answers as typed and as kept: units, bounds, packs, slips of the key."""

import re
from dataclasses import replace

import pytest

from sim.describe import FileFault, data_folder, load_aeroplane
from sim.describe.edge_throws import angle_deg
from sim.start.asking import relations
from sim.start.asking.answers import answers_from, answers_text
from sim.start.asking.asked import questions_for, unasked
from sim.start.asking.drawings import drawing_for
from sim.start.asking.held import _allowed, beyond_belief, facts_of_answers, slips_of
from sim.start.asking.question import ALL, PACKS
from sim.start.asking.questions import KEYS, QUESTIONS
from sim.start.asking.typed import Refused, read_answer, with_rule
from sim.start.writing import aeroplane_text
from sim.units.quantities import using_units
from sim.weigh.slips import Slip

RULER_JET = data_folder("scenarios") / "answers" / "ruler_jet.toml"


def question(key):
    return next(q for q in QUESTIONS if q.key == key)


@pytest.mark.parametrize(
    ("typed", "mm"), [("575", 575.0), ("57,5 cm", 575.0), ('22.6"', 574.04), ("0.575 m", 575.0)]
)
def test_a_length_may_be_typed_in_any_unit(typed, mm):
    assert read_answer(question("wing_span_mm"), typed) == pytest.approx(mm)


def test_bare_numbers_are_in_the_units_of_the_run():
    with using_units("oz-in"):
        assert read_answer(question("wing_span_mm"), "40") == pytest.approx(1016.0)
        assert read_answer(question("mass_g"), "10 oz") == pytest.approx(283.495)
        assert read_answer(question(PACKS), "4 2200 8.5") == ("4s 2200 240.971",)
    # on a propeller they are inches in either
    assert read_answer(question("propeller_in"), "12") == 12.0


@pytest.mark.parametrize(
    ("key", "typed", "said"),
    [
        ("wing_span_mm", "wide", "must be a number"),
        ("wing_span_mm", "40", "at least 100 and at most 10000 mm; got 40"),
        ("wing_span_mm", "575 oz", "must be in one of mm, cm, m, in, ft"),
        ("wing_span_mm", "1010 in", "at most 10000 mm; got 1010 in, 25654 mm"),
        ("kind", "jet", "must be one of fan_jet_strakes"),
        ("packs", "big one", "such as 6 4000 640"),
        ("packs", "44 4000", "1 to 14 cells"),
        ("rudder_deg", "20 mm", "in mm needs rudder_width_mm"),
        ("rudder_deg", "20 oz", "must be a plain number"),
        ("servo_torque_ncm", "2.2", "needs its unit: 2.2 kg cm"),
    ],
)
def test_what_cannot_be_is_refused_in_words(key, typed, said):
    with pytest.raises(Refused, match=re.escape(said)):
        read_answer(question(key), typed)


def test_a_torque_may_be_typed_as_its_label_has_it():
    for typed in ("2.2 kg cm", "2.2kg-cm", "21.57 N cm", "30.55 oz in"):
        assert read_answer(question("servo_torque_ncm"), typed) == pytest.approx(21.57, abs=0.01)


def test_a_throw_may_be_read_at_the_trailing_edge(tmp_path):
    # a file may hold the throw before the width that it needs
    text = RULER_JET.read_text(encoding="utf-8").replace("rudder_deg = 22", "rudder_mm = 18")
    text = text.replace("elevator_up_deg = 14", 'elevator_up_deg = "1.2 in"')
    text += "rudder_width_mm = 45\npivot_back_mm = 70\n"
    path = tmp_path / "answers.toml"
    path.write_text(text, encoding="utf-8")
    answers, _ = answers_from(path)
    assert answers["rudder_deg"] == pytest.approx(23.58, abs=0.01)
    # a tailplane that turns as a whole is read at its root, 170 - 70 mm from its pivot
    assert answers["elevator_up_deg"] == pytest.approx(17.75, abs=0.01)
    path.write_text(text.replace("rudder_mm = 18", "rudder_mm = 45"), encoding="utf-8")
    with pytest.raises(FileFault, match="rudder_mm: must be a travel that its width allows"):
        answers_from(path)


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("6 4000 640 138", "6s 4000 640 138mm"),
        ("6s 4000 mAh 640 g 13.8 cm", "6s 4000 640 138mm"),
        ("6 4000 138mm", "6s 4000 138mm"),
        ("6 4000 5.43in 22.6oz", "6s 4000 640.699 137.922mm"),
        ("6 4000 640", "6s 4000 640"),
        ("6 4000", "6s 4000"),
        ("6s3300 498 136", "6s 3300 498 136mm"),
        ("6S1P/3300mAh 498g 136mm", "6s 3300 498 136mm"),
        ("6s, 3300, 498, 136", "6s 3300 498 136mm"),
    ],
)
def test_a_pack_has_a_weight_and_a_length_or_leaves_them_out(typed, kept):
    assert read_answer(question(PACKS), typed) == (kept,)
    assert read_answer(question(PACKS), kept) == (kept,)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("6 4000 640 138 20", "a pack is cells, mAh, weight and length"),
        ("6s3300mAh498", "a blank between, such as 6 4000 640 138; got"),
        ("6 4000 12cm 138mm", "a pack has one length"),
        ("6 4000 640 900", "at least 20 and at most 500 mm; got 900"),
    ],
)
def test_what_cannot_be_a_pack_is_refused(typed, said):
    with pytest.raises(Refused, match=re.escape(said)):
        read_answer(question(PACKS), typed)


# the shortest pack's middle may lie from -100 to -40; another is 30 mm longer
LENGTHS = {
    "kind": "glider", PACKS: ("3s 2200 180 105mm", "3s 3200 250 135mm"), "pack_in_it": 2.0,
    "nose_ahead_mm": 300.0, "body_length_mm": 1200.0, "tray_front_mm": -100.0,
    "tray_rear_mm": -40.0,
}  # fmt: skip


def test_where_a_longer_pack_lay_is_held_against_its_own_reach():
    assert not list(relations.broken({**LENGTHS, "pack_back_mm": -84.0}))  # -85 is its foremost
    assert not list(relations.broken({**LENGTHS, "pack_back_mm": -87.0}))  # a ruler's reading off
    ((key, text),) = relations.broken({**LENGTHS, "pack_back_mm": -92.0})
    assert (key, "no further than -85; it lay ahead of that, at -92" in text) == (
        "tray_front_mm", True,
    )  # fmt: skip
    ((key, text),) = relations.broken({**LENGTHS, "pack_back_mm": -50.0})
    assert (key, "no further than -55; it lay behind" in text) == ("tray_rear_mm", True)
    # without every length no pack is held to its own
    short = {**LENGTHS, PACKS: ("3s 2200 180 105mm", "3s 3200 250")}
    assert not list(relations.broken({**short, "pack_back_mm": -92.0}))
    long = {**LENGTHS, PACKS: ("3s 2200 180 105mm", "3s 3200 250 180mm"), "pack_back_mm": -70.0}
    assert ("tray_rear_mm", "leaves no room for 3s_3200, 180 mm long") in [
        (key, text.split(":")[0]) for key, text in relations.broken(long)
    ]


def test_floor_and_ceiling_may_be_typed_in_feet_and_must_leave_room():
    assert read_answer(question("ceiling_m"), "400 ft") == pytest.approx(121.92)
    with using_units("oz-in"):
        assert read_answer(question("floor_m"), "100") == pytest.approx(30.48)
    ((key, text),) = relations.broken({"floor_m": 60.0, "ceiling_m": 50.0})
    assert (key, text) == ("ceiling_m", "must be more than the floor, 60 m; got 50")


def test_a_rudder_may_run_on_below_the_fin_s_foot():
    """Common practice, no source: rudders often run down to the keel."""
    asked = question("rudder_inner_mm")
    assert "down to the keel, how far below: minus (-60)" in asked.ruler
    assert read_answer(asked, "-40") == -40.0
    fin = {"fin_height_mm": 200.0, "rudder_outer_mm": 200.0}
    assert not list(relations.broken({**fin, "rudder_inner_mm": -40.0}))
    ((key, text),) = relations.broken({**fin, "rudder_inner_mm": -240.0})
    assert (key, text) == (
        "rudder_inner_mm",
        "must not reach further below the fin's foot than the fin is high, 200 mm; got -240",
    )


@pytest.mark.parametrize(
    ("key", "typed", "kept"),
    [
        ("controller_at", "58 -130", "58 g, -130 mm"),
        ("controller_at", "58g, -13 cm", "58 g, -130 mm"),
        ("controller_at", "2 oz -5.1in", "56.699 g, -129.54 mm"),
        ("undercarriage_at", "92", "92 g"),
        ("undercarriage_at", "92 300", "92 g, 300 mm"),
        ("cruise_at", "45 % 65 km/h", "45, 18.0556 m/s"),
        ("charged_at", "1500 mAh 6 min", "1500, 6"),
    ],
)
def test_a_line_takes_several_numbers_and_is_kept_with_their_units(tmp_path, key, typed, kept):
    assert read_answer(question(key), typed) == kept
    with using_units("oz-in"):
        assert read_answer(question(key), kept) == kept
    path = tmp_path / "answers.toml"
    text = f'{RULER_JET.read_text(encoding="utf-8")}main_wheel_back_mm = 20\nwheels = "nose"\n'
    path.write_text(f'{text}{key} = "{typed}"\n', encoding="utf-8")
    answers, _ = answers_from(path)
    path.write_text(answers_text("jet", answers, []), encoding="utf-8")
    assert answers_from(path)[0][key] == answers[key] == kept


@pytest.mark.parametrize(
    ("key", "typed", "said"),
    [
        ("controller_at", "58", "must be weight [g] and place behind x [mm], a blank between; got"),
        ("controller_at", "58 - 130", "a blank between; got '58 - 130'"),  # a sign that stands off
        ("controller_at", "58 -130 20", "a blank between"),
        ("controller_at", "58 mm -130", "weight must be in one of g, kg, oz, lb; got"),
        ("receiver_at", "5000 60", "weight must be at least 1 and at most 1000 g; got 5000"),
        ("cruise_at", "145 18", "per cent must be at least 5 and at most 100"),
    ],
)
def test_what_a_line_cannot_be_is_refused_in_words(key, typed, said):
    with pytest.raises(Refused, match=re.escape(said)):
        read_answer(question(key), typed)


def test_a_line_that_is_typed_in_centimetres_has_them_of_its_lengths_alone():
    assert with_rule(question("controller_at"), "58 -13", "cm") == "58 -13 cm"
    assert with_rule(question("controller_at"), "58 -130 mm", "cm") == "58 -130 mm"
    assert with_rule(question("cruise_at"), "45 18", "cm") == "45 18"
    assert with_rule(question("wing_span_mm"), "115", "cm") == "115 cm"


def test_places_off_the_body_and_volts_off_the_pack_are_told():
    answers, _ = answers_from(RULER_JET)  # 643 mm of nose, 1360 mm long, six cells
    told = {"controller_at": "58 g, 2000 mm", "wing_servo_at": "600 mm, 100 mm", "pack_v": 14.9,
            "tail_servo_back_mm": -700.0}  # fmt: skip
    faults = dict(relations.broken({**answers, **told}))
    assert set(faults) == set(told)
    assert "must lie within a quarter of the body's length, 1360 mm" in faults["controller_at"]
    assert "within half of the span, 1150 mm from tip to tip; got 600" in faults["wing_servo_at"]
    assert "of a pack of 6 cells, under load; got 14.9" in faults["pack_v"]
    fine = {"controller_at": "58 g, -130 mm", "wing_servo_at": "300 mm, 100 mm", "pack_v": 20.9,
            "tail_servo_back_mm": 600.0}  # fmt: skip
    assert not list(relations.broken({**answers, **fine}))
    # in a boom, far behind a short body
    boom = {"nose_ahead_mm": 330.0, "body_length_mm": 560.0, "fin_back_mm": 600.0,
            "fin_root_chord_mm": 150.0}  # fmt: skip
    assert not list(relations.broken({**boom, "tail_servo_back_mm": 640.0}))
    assert list(relations.broken({**boom, "tail_servo_back_mm": 800.0}))


def test_a_file_is_in_its_own_units_whatever_those_of_the_run(tmp_path):
    plain, _ = answers_from(RULER_JET)
    with using_units("oz-in"):
        assert answers_from(RULER_JET)[0] == plain


def test_speeds_may_be_typed_as_pilots_read_them():
    assert read_answer(question("top_speed_mps"), "104.4 km/h") == pytest.approx(29.0)
    assert read_answer(question("top_speed_mps"), "29") == 29.0


def test_what_is_itself_refused_is_never_likely_meant():
    """Own: an offer that start would refuse as soon as it is taken is none."""
    answers, _ = answers_from(RULER_JET)
    slip = Slip("wing_tip_chord_mm", "wing_tip_chord_mm", 40.0, 4.0, "")
    assert not _allowed(slip, answers)  # 5 mm is the least that is asked
    assert _allowed(replace(slip, meant=100.0), answers)
    balance = Slip("balance_back_mm", "balance_back_mm", 500.0, 5000.0, "")
    assert not _allowed(balance, answers)


def test_choices_go_by_number_or_by_how_they_begin():
    assert read_answer(question("kind"), "3") == "delta"
    assert read_answer(question("kind"), "glid") == "glider"
    assert read_answer(question("fins"), "2") == "2"


def test_every_answer_comes_back_from_the_file(tmp_path):
    answers, _ = answers_from(RULER_JET)
    path = tmp_path / "answers.toml"
    path.write_text(answers_text("jet", answers, ["lead_g"]), encoding="utf-8")
    again, blank = answers_from(path)
    assert (again, blank) == (answers, ["lead_g"])


@pytest.mark.parametrize(
    ("wrong", "right", "said"),
    [
        (
            "wing_span_mm",
            "wing_spam_mm",
            "wing_spam_mm: is no question; did you mean",
        ),
        (
            "rudder_deg = 22",
            "rudder = 10",
            "rudder: is no question; did you mean 'rudder_deg', or in mm 'rudder_mm'?",
        ),
        ("nozzle_mm = 70", "sure_of = 3", 'sure_of: must be a list of keys, such as ["bal'),
        ("mass_g = 2433", "", "mass_g: is missing; What it weighs"),
        ("mass_g = 2433", 'mass_g = "a lot"', "mass_g: must be a number"),
        ('"6s 3300 535"', "3300", "packs: must be a list of texts"),
        ("aftlimit.answers/1", "aftlimit.study/1", "schema: must be 'aftlimit.answers/1'"),
    ],
)
def test_a_wrong_file_is_told_by_its_keys(tmp_path, wrong, right, said):
    path = tmp_path / "answers.toml"
    path.write_text(RULER_JET.read_text(encoding="utf-8").replace(wrong, right), encoding="utf-8")
    with pytest.raises(FileFault, match=re.escape(said)):
        answers_from(path)


@pytest.mark.parametrize(
    ("wrong", "right", "said"),
    [
        (
            "pack_in_it = 2",
            "pack_in_it = 4",
            "pack_in_it: must be the number of one",
        ),
        ("tray_rear_mm = 17", "tray_rear_mm = -300", "tray_rear_mm: must lie inside the body"),
        (
            "nozzle_mm = 70",
            "nozzle_mm = 90",
            "nozzle_mm: must be 55 to 100 % of",
        ),
        ("body_length_mm = 1360", "body_length_mm = 600", "body_length_mm: must be more than"),
        # mean chord of 170 and 90 mm: 134 mm, from 0.449 x 131 = 59 mm on (arithmetic)
        ("fans =", "pivot_back_mm = 150\nfans =", "pivot_back_mm: must lie 59 to 139 mm behind"),
    ],
)
def test_what_cannot_be_together_is_refused(tmp_path, wrong, right, said):
    path = tmp_path / "answers.toml"
    path.write_text(RULER_JET.read_text(encoding="utf-8").replace(wrong, right), encoding="utf-8")
    with pytest.raises(FileFault, match=re.escape(said)):
        answers_from(path)


def test_a_key_may_be_in_inches(tmp_path):
    path = tmp_path / "answers.toml"
    text = RULER_JET.read_text(encoding="utf-8")
    path.write_text(text.replace("wing_span_mm = 1150", "wing_span_in = 45.28"), encoding="utf-8")
    assert answers_from(path)[0]["wing_span_mm"] == pytest.approx(1150.1, abs=0.1)
    path.write_text(text.replace("wing_span_mm = 1150", "wing_span_in = 1150"), encoding="utf-8")
    with pytest.raises(FileFault, match="at most 10000 mm; got 1150 in, 29210 mm"):
        answers_from(path)


def test_each_kind_is_asked_what_it_has_and_each_letter_is_drawn():
    driven = [("delta", {"driven_by": drive}) for drive in ("fan", "propeller")]
    for kind, more in [*((kind, {}) for kind in ALL if kind != "delta"), *driven]:
        keys = [q.key for q in questions_for({"kind": kind, **more})]
        needed = [q for q in questions_for({"kind": kind, **more}) if not q.optional]
        # what half an hour allows, of which so many cannot be left blank
        assert len(keys) == len(set(keys)) <= 74
        assert len(needed) <= 40
        assert ("tail_span_mm" in keys) == (kind != "delta")
        assert ("fan_mm" in keys) != ("propeller_in" in keys)
        drawn = drawing_for(kind)
        letters = [q.ruler[0] for q in questions_for({"kind": kind}) if re.match(r"\w:", q.ruler)]
        assert [x for x in letters if x not in drawn] == []
    assert "kind" in KEYS
    assert {relation.key for relation in relations.RELATIONS} <= KEYS


WHEELS = {
    "wheels": "nose", "main_wheel_back_mm": 170.0, "main_wheel_down_mm": 150.0,
    "third_wheel_back_mm": -320.0, "third_wheel_down_mm": 155.0,
}  # fmt: skip


def test_wheels_may_be_told_and_stand_below_the_middle_of_the_body(tmp_path):
    answers, _ = answers_from(RULER_JET)
    asked = [q.key for q in questions_for({**answers, "wheels": "tail"})]
    assert set(WHEELS) <= set(asked)
    assert set(WHEELS) & {q.key for q in questions_for({**answers, "wheels": "none"})} == {"wheels"}
    path = tmp_path / "jet.toml"
    path.write_text(aeroplane_text("jet", {**answers, **WHEELS}), encoding="utf-8")
    legs = load_aeroplane(path).undercarriage
    assert (legs.main_aft_mm, legs.main_up_mm) == (170.0, -150.0)
    assert (legs.nose_aft_mm, legs.nose_up_mm, legs.tail_aft_mm) == (-320.0, -155.0, None)
    path.write_text(aeroplane_text("jet", answers), encoding="utf-8")
    assert load_aeroplane(path).undercarriage is None
    faults = dict(relations.broken({**answers, **WHEELS, "wheels": "tail"}))
    assert faults == {"third_wheel_back_mm": "must lie behind the main wheels, 170; got -320"}


def test_slips_are_seen_as_soon_as_they_can_be():
    answers, _ = answers_from(RULER_JET)
    assert slips_of(answers) == []
    assert facts_of_answers(answers)["diameter_mm"].value == 80.0
    early = {"kind": "fan_jet_strakes", "wing_span_mm": 115.0}
    (slip,) = slips_of(early, ["wing_span_mm"])
    assert slip.meant == 1150.0
    (slip,) = slips_of({**answers, "elevator_up_deg": 22.0, "rudder_deg": 14.0})
    assert "tail and rudder swapped" in slip.text
    for torque in (3.0, 288.0):  # kg cm for N cm, and the other way
        (slip,) = slips_of({**answers, "servo_torque_ncm": torque})
        assert slip.meant == pytest.approx(29.4, abs=0.1)
    (slip,) = slips_of({**answers, "balance_back_mm": 778.0}, ["balance_back_mm"])
    assert (slip.key, slip.meant) == ("balance_back_mm", 135.0)


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("balance_back_mm", 778.0, "778 gives a balance point at 2"),
        ("wing_span_mm", 115.0, "115 gives an aspect ratio of 0.234"),
        ("mass_g", 90.0, "g/dm² of wing, where no aeroplane flies: 5 to 300 is the widest"),
        ("body_length_mm", 13600.0, "11.8 spans of body"),
    ],
)
def test_what_no_aeroplane_flies_with_is_told_with_what_was_likely_meant(key, value, said):
    answers, _ = answers_from(RULER_JET)
    assert list(beyond_belief(answers)) == []
    told = dict(beyond_belief({**answers, key: value}))
    assert said in told[key]


def test_a_delta_is_driven_by_a_fan_or_a_propeller_and_says_so(tmp_path):
    path = tmp_path / "answers.toml"
    tailless = "\n".join(
        line for line in RULER_JET.read_text(encoding="utf-8").splitlines()
        if not line.startswith(("tail_", "strake", "aileron_down"))
    ).replace('kind = "fan_jet_strakes"', 'kind = "delta"')  # fmt: skip
    # a file from before it was asked: its fan tells it
    path.write_text(tailless, encoding="utf-8")
    assert answers_from(path)[0]["driven_by"] == "fan"
    bare = "\n".join(x for x in tailless.split("\n") if not x.startswith(("fan", "nozzle")))
    path.write_text(bare, encoding="utf-8")
    with pytest.raises(FileFault, match="driven_by: is missing; What drives it"):
        answers_from(path)
    path.write_text(f"{bare}\npropeller_in = 11\npitch_in = 6\n", encoding="utf-8")
    with pytest.raises(FileFault, match="propeller_back_mm: is missing"):  # no silent nose
        answers_from(path)
    place = "propeller_in = 11\npitch_in = 6\npropeller_back_mm"
    path.write_text(f"{bare}\n{place} = 700\n", encoding="utf-8")
    assert answers_from(path)[0]["driven_by"] == "propeller"
    path.write_text(f"{bare}\n{place} = 1700\n", encoding="utf-8")
    with pytest.raises(FileFault, match="propeller_back_mm: must lie within a quarter"):
        answers_from(path)


def test_lead_that_would_hang_in_the_air_and_a_span_of_one_wing_are_refused():
    """820 mm behind is written as plus; half a span is not a span."""
    told = {"nose_ahead_mm": 232.0, "body_length_mm": 1105.0, "lead_back_mm": 820.0}
    assert not list(relations.broken(told))
    ((key, text),) = relations.broken({**told, "lead_back_mm": -820.0})
    assert key == "lead_back_mm"
    assert "behind x is plus; got -820" in text
    told = {"wing_span_mm": 602.0, "aileron_inner_mm": 143.0, "aileron_outer_mm": 590.0}
    ((_, text),) = relations.broken(told)
    assert "half of the whole span, which is 602 mm from tip to tip; got 590" in text


def test_a_throw_told_in_millimetres_is_doubted_in_millimetres_too():
    told = {"elevator_width_mm": 62.0, "elevator_up_deg": angle_deg(2.6, 62.0)}
    assert relations.answer_text(told, "elevator_up_deg", told["elevator_up_deg"]) == (
        "2.4 degrees (2.6 mm)"
    )
    assert relations.answer_text(told, "elevator_width_mm", 62.0) == "62"
    assert relations.answer_text({}, "elevator_up_deg", 2.5) == "2.5"


def test_an_answer_that_nothing_asks_for_is_told():
    answers, _ = answers_from(RULER_JET)
    assert dict(unasked(answers)) == {}
    told = dict(unasked({
        "kind": "delta", "driven_by": "propeller", "fan_mm": 70.0, "tail_span_mm": 400.0,
        "lead_back_mm": 3.0,
    }))  # fmt: skip
    assert told == {
        "fan_mm": "is asked only of what a fan drives",
        "tail_span_mm": "is not asked of kind 'delta'",
        "lead_back_mm": "is asked only where lead_g is given",
    }


def test_a_slip_in_an_elevons_throw_names_the_answer_and_what_was_likely_meant():
    told = {
        "kind": "delta", "aileron_width_mm": 48.0, "aileron_up_deg": angle_deg(17.0, 48.0),
        "elevator_up_deg": angle_deg(1.4, 48.0), "elevator_down_deg": angle_deg(14.0, 48.0),
    }  # fmt: skip
    ((key, text),) = relations.broken(told)
    assert key == "elevator_up_deg"
    assert text.endswith(
        "got 1.67 degrees (1.4 mm); likely meant 17 degrees (14 mm), a decimal point"
    )
    slip = next(x for x in slips_of(told) if x.key == "elevator_up_deg")
    assert slip.meant == pytest.approx(16.7, abs=0.05)
    right = {**told, "elevator_up_deg": angle_deg(14.0, 48.0)}
    assert not list(relations.broken(right))
    assert not slips_of(right)
    ((key, text),) = relations.broken({**right, "elevator_more_up_deg": 50.0})
    assert (key, "at most 60 degrees up with both sticks" in text) == ("elevator_more_up_deg", True)


def test_a_deltas_balance_from_its_nose_is_refused_with_what_it_would_be_from_x():
    """Common practice, no source: without a tailplane none flies a third of its chord unstable."""
    told = {
        "kind": "delta", "wing_span_mm": 905.0, "wing_root_chord_mm": 526.0,
        "wing_tip_chord_mm": 135.0, "wing_tip_back_mm": 382.0, "nose_ahead_mm": 178.0,
        "body_length_mm": 720.0, "middle_width_mm": 62.0,
    }  # fmt: skip
    assert not list(beyond_belief({**told, "balance_back_mm": 200.0}))
    ((key, text),) = beyond_belief({**told, "balance_back_mm": 378.0})
    assert key == "balance_back_mm"
    assert "where no aeroplane flies" in text
    assert text.endswith("Was it measured from the nose? Then it is 200 behind x")
