"""The command: asks, keeps, goes on, writes; never over a file that is there."""

import builtins
import re
from contextlib import suppress

import pytest

from sim.cli import main
from sim.commands import start
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from sim.show.console.asking import Conversation, Stopped
from sim.show.words.started import started_lines
from sim.start.asking.answers import answers_from, answers_text
from sim.start.asking.asked import questions_for


def typed(lines):
    """Return what reads these lines and then ends."""
    left = iter(lines)

    def read(_prompt):
        try:
            return next(left)
        except StopIteration:
            raise EOFError from None

    return read


def talk(lines, answers=None):
    """Return a conversation after these lines, and what it said."""
    said = []
    one = Conversation(answers or {}, [], typed(lines), said.append, lambda: None)
    with suppress(Stopped):
        one.ask_all()
    return one, "\n".join(said)


def test_from_a_file_it_asks_nothing_and_writes(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["start", "mine", "--from", "ruler_jet", "--no-sketch"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "2433 g, balanced at 135 mm" in out
    path = tmp_path / "mine" / "mine.toml"
    stall = assemble(load_aeroplane(path)).stall.speed_mps
    assert f"It stalls at {stall:.1f} m/s, level, power off" in out
    aeroplane = load_aeroplane(path)
    assert aeroplane.name == "mine"
    assert "mine.toml is written: 40 questions in 17 minutes" in started_lines(
        aeroplane, path, 40, 17.0
    )[0]  # fmt: skip
    assert main(["start", "mine", "--from", "ruler_jet"]) == 2
    assert "is there already; edit it" in capsys.readouterr().err


def test_it_stops_keeps_and_goes_on(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(builtins, "input", typed(["1", "1150", "33 cm", "stop"]))
    assert main(["start", "mine"]) == 130
    assert "goes on from there" in capsys.readouterr().out
    answers, _ = answers_from(tmp_path / "mine" / "answers.toml", needed=False)
    assert answers == {
        "kind": "fan_jet_strakes", "wing_span_mm": 1150.0, "wing_root_chord_mm": 330.0,
    }  # fmt: skip
    whole, _ = answers_from(start._found("ruler_jet"))
    rest = [q for q in questions_for(whole) if q.key not in answers]
    lines = []
    for question in rest:
        value = whole.get(question.key, "")
        lines += [*value, ""] if isinstance(value, tuple) else [str(value)]
    monkeypatch.setattr(builtins, "input", typed(lines))
    assert main(["start", "mine", "--no-sketch"]) == 0
    out = capsys.readouterr().out
    assert "3 answers are there; going on" in out
    assert re.search(rf"{len(rest)} questions in 0 minutes", out)
    assert load_aeroplane(tmp_path / "mine" / "mine.toml").measured.mass_g == 2433.0


def test_a_slip_is_asked_again_and_its_likely_value_taken():
    one, said = talk(["fan_jet_strakes", "115", "y"])
    assert "likely meant 1150" in said
    assert one.answers["wing_span_mm"] == 1150.0
    one, _ = talk(["fan_jet_strakes", "115", "1160"])
    assert one.answers["wing_span_mm"] == 1160.0
    one, _ = talk(["fan_jet_strakes", "115", ""])
    assert one.answers["wing_span_mm"] == 115.0


def test_the_number_of_questions_to_go_never_rises():
    answers, _ = answers_from(start._found("ruler_jet"))
    # every width told asks for its ends
    _, said = talk([*8 * [""], "40", *40 * [""]], answers)
    told = [int(x) for x in re.findall(r"\[about (\d+) to go\]", said)]
    assert len(told) > 10
    assert told == sorted(told, reverse=True)
    assert told[-1] == 1


def test_swapped_throws_are_put_right_by_one_letter():
    answers, _ = answers_from(start._found("ruler_jet"))
    del answers["aileron_down_deg"]
    answers |= {"aileron_up_deg": 10.0}
    one, said = talk([*8 * [""], "18", "y"], answers)
    assert "up and down swapped" in said
    assert (one.answers["aileron_up_deg"], one.answers["aileron_down_deg"]) == (18.0, 10.0)


def test_what_cannot_be_beside_the_rest_is_asked_again():
    answers, _ = answers_from(start._found("ruler_jet"))
    del answers["tray_rear_mm"]
    one, said = talk(["", "", "", "-300", "17", ""], answers)
    assert "tray_rear_mm: must lie inside the body" in said
    assert one.answers["tray_rear_mm"] == 17.0


@pytest.mark.parametrize(
    ("name", "said"),
    [("my jet", "letters, digits"), ("nowhere/jet", 'there is no folder "nowhere"')],
)
def test_a_name_that_no_file_can_have_is_refused_first(tmp_path, monkeypatch, capsys, name, said):
    monkeypatch.chdir(tmp_path)
    assert main(["start", name, "--from", "ruler_jet"]) == 2
    assert said in capsys.readouterr().err


def test_what_cannot_be_is_told_and_back_goes_back():
    one, said = talk(["2", "wide", "", "1000", "back", "1100"])
    assert "must be a number" in said
    assert "needs an answer" in said
    assert one.answers["wing_span_mm"] == 1100.0


def test_one_who_measures_in_centimetres_says_so_once():
    one, said = talk(["fan_jet", "cm", "115", "33", "160 mm"])
    assert "lengths are in cm from here on" in said
    assert "root, cm" in said
    assert [one.answers[f"wing_{x}_mm"] for x in ("span", "root_chord", "tip_chord")] == [
        1150.0, 330.0, 160.0,
    ]  # fmt: skip


def test_an_aeroplane_that_cannot_be_is_not_left_there(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    text = start._found("ruler_jet").read_text(encoding="utf-8")
    (tmp_path / "a.toml").write_text(text.replace("mass_g = 2433", "mass_g = 700"))
    assert main(["start", "mine", "--from", "a.toml", "--no-sketch"]) == 2
    assert "measured.mass_g: must exceed" in capsys.readouterr().err
    assert not (tmp_path / "mine" / "mine.toml").exists()


def test_a_throw_in_mm_asks_for_the_width_that_it_needs():
    answers, _ = answers_from(start._found("ruler_jet"))
    del answers["rudder_deg"]
    # heights, lead, torque, pull, current, widths of aileron and rudder, the tailplane's pivot
    one, said = talk([*10 * [""], "18 mm", "45"], answers)
    assert "in mm needs rudder_width_mm" in said
    assert "that is 23.6 degrees" in said
    assert one.answers["rudder_width_mm"] == 45.0
    assert one.answers["rudder_deg"] == pytest.approx(23.58, abs=0.01)  # arcsine of 18 over 45


def test_a_bare_throw_says_how_it_was_read_and_what_it_is_in_mm():
    answers, _ = answers_from(start._found("ruler_jet"))
    del answers["rudder_deg"]
    # heights, lead, torque, pull, current, aileron, pivot; 45 mm wide, its ends as usual
    one, said = talk([*9 * [""], "45", "", "", "", "12"], answers)
    assert one.answers["rudder_deg"] == 12.0
    # 45 mm times the sine of 12 degrees, 9.36 mm
    told = "read as 12 degrees, as no unit was typed: 9.4 mm at the trailing edge"
    assert f"{told} (type 12 mm for mm)" in said
    del answers["rudder_deg"], answers["rudder_width_mm"]
    _, said = talk([*10 * [""], "12"], answers)
    assert "read as 12 degrees, as no unit was typed (type 12 mm for mm)" in said


def test_a_balance_that_no_aeroplane_flies_at_stops_before_anything_is_written(
    tmp_path, monkeypatch, capsys
):
    monkeypatch.chdir(tmp_path)
    text = start._found("ruler_jet").read_text(encoding="utf-8")
    # from the nose, which lies 643 mm ahead of x
    wrong = text.replace("balance_back_mm = 135", "balance_back_mm = 778")
    (tmp_path / "a.toml").write_text(wrong)
    assert main(["start", "mine", "--from", "a.toml", "--no-sketch"]) == 2
    told = capsys.readouterr().err
    assert "a.toml: balance_back_mm: 778 gives a balance point at 2" in told
    assert "measured from the nose? Likely meant 135" in told
    assert 'write in the file  sure_of = ["balance_back_mm"]' in told
    assert not (tmp_path / "mine").exists()
    (tmp_path / "a.toml").write_text(f'{wrong}sure_of = ["balance_back_mm"]\n')
    main(["start", "mine", "--from", "a.toml", "--no-sketch"])
    assert "write in the file" not in capsys.readouterr().err


def test_a_doubtful_answer_that_was_kept_is_not_asked_for_again_from_the_file(tmp_path):
    one, _ = talk(["fan_jet_strakes", "115", ""])
    assert one.answers["sure_of"] == ("wing_span_mm",)
    path = tmp_path / "answers.toml"
    path.write_text(answers_text("jet", one.answers, []), encoding="utf-8")
    assert answers_from(path, needed=False)[0] == one.answers
    one, _ = talk(["fan_jet_strakes", "115", "", "back", "1150"])
    assert one.answers["sure_of"] == ()


def test_who_answers_nothing_is_told_that_nothing_is_kept(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(builtins, "input", typed([]))
    assert main(["start", "mine"]) == 130
    assert "nothing is kept" in capsys.readouterr().out


def test_the_pack_goes_by_its_capacity_and_all_are_shown():
    answers, _ = answers_from(start._found("ruler_jet"))
    del answers["pack_in_it"]
    one, said = talk([*3 * [""], "2200", "3300"], answers)
    assert "3 packs: 1 = 6s 3300 mAh, 2 = 6s 4000 mAh" in said
    assert "must be the number of one of the 3 packs" in said
    assert one.answers["pack_in_it"] == 1.0


def test_doubts_come_before_what_to_do_next(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    text = start._found("ruler_jet").read_text(encoding="utf-8")
    (tmp_path / "a.toml").write_text(f"{text}servo_torque_ncm = 2.2\n")
    assert main(["start", "mine", "--from", "a.toml", "--no-sketch"]) == 0
    out = capsys.readouterr().out
    assert out.index("servo_torque_ncm: 2.2 gives") < out.index("Next: ")
    assert "kilogram centimetres?; likely meant 21.57" in " ".join(out.split())
    assert "picture" not in out


def test_what_weighing_and_power_doubt_is_told_at_once(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    text = start._found("ruler_jet").read_text(encoding="utf-8")
    (tmp_path / "a.toml").write_text(f"{text}static_thrust_g = 900\n")
    assert main(["start", "mine", "--from", "a.toml", "--no-sketch"]) == 0
    out = " ".join(capsys.readouterr().out.split())
    assert "Doubtful: measured.static_thrust_g: 900 g cannot be met" in out
    assert "have power in their pull-out alone" in out
    assert "Doubtful: fittings inside the body do not make it balance at 135.0 mm" in out
    assert out.index("Doubtful: fittings") < out.index("Next: ")
    main(["weigh", "mine/mine.toml"])
    weighed = " ".join(capsys.readouterr().out.split())
    assert "Doubtful: fittings inside the body" in weighed
    assert weighed.count("do not make it balance at") == 1


def test_a_line_may_be_typed_with_the_rule_that_all_lengths_are_in():
    answers, _ = answers_from(start._found("ruler_jet"))
    gone = [q for q in questions_for(answers) if q.key not in answers]
    before = [q.key for q in gone].index("controller_at")
    one, said = talk([*before * [""], "cm", "58", "58 -13", ""], answers)
    assert "lengths are in cm from here on" in said
    assert "must be weight [g] and place behind x [mm], a blank between; got '58'" in said
    assert one.answers["controller_at"] == "58 g, -130 mm"
