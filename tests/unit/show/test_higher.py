"""Where height is what is missing: said first, with the command; what to mend on a card."""

from dataclasses import replace

import pytest

from sim.landing.forward import CheckLimit, ForwardLimit
from sim.landing.more_area import MoreArea
from sim.show.console.console import render
from sim.show.console.results.study import study_tables
from sim.show.words.findings.mending import mending_lines
from sim.show.words.places.out_of_reach import out_of_reach_text
from sim.show.words.recovery.higher import (
    again_command,
    ceiling_text,
    entries_text,
    higher_texts,
    more_draws_command,
)
from sim.study.standing.mending import failed_from_mm
from tests.samples.results import case, limit, result, setup, summaries

RESULT = replace(result(), aft_limits=(), draws=128)


def deep(never=0):
    """Return a study whose stall takes 90 m of the 80 m there are."""
    cases = (
        case("chop", "centre", summaries(128, 0, 90.0)),
        case("spin", "centre", summaries(128, never, 30.0)),
    )
    return replace(RESULT, setups=(replace(setup("low", 180.0, 0), cases=cases),))


def test_height_is_said_first_with_the_command_that_flies_from_there():
    told, command = higher_texts(deep())
    assert told.startswith("WHAT IS MISSING IS HEIGHT: it does come back, but too low. Chop (low)")
    assert "entered at 120 m with the floor at 40 m: 128 of the 128 flights lost" in told
    assert "95 % of the flights flown need 135 m of entry height, floor included" in told
    assert "for real, above the usual ceiling of 120 m, only with leave" in told
    assert command.startswith("aftlimit study ")
    assert "--entry-m 140" in command
    lines = render(study_tables(deep())).splitlines()
    assert next(i for i, x in enumerate(lines) if "MISSING" in x) < next(
        i for i, x in enumerate(lines) if x.startswith("Asked")
    )
    assert higher_texts(replace(RESULT, setups=())) == ()


def test_where_flights_never_come_back_height_is_said_to_be_no_cure():
    told, _ = higher_texts(deep(never=60))
    assert told.startswith("WHAT IS MISSING IN chop IS HEIGHT")
    assert "Height is no cure in spin (low): too many never came back" in told


def test_the_command_names_the_file_that_was_asked():
    study = replace(RESULT, asked_by="my jet/jet.toml", study="jet")
    wanted = "aftlimit study 'my jet/jet.toml' --entry-m 200 --out jet_from_200_m"
    assert again_command(study, 200.0) == wanted
    # what it was told of floor and ceiling is said again, its own height and folder are not
    said = (("--entry-m", "90"), ("--floor-m", "30"), ("--ceiling-m", "90"), ("--out", "here"))
    wanted = wanted.replace("200 --out", "200 --floor-m 30 --ceiling-m 90 --out")
    assert again_command(replace(study, options=said), 200.0) == wanted


def test_a_ceiling_that_was_said_is_called_so():
    assert ceiling_text(RESULT) == "the usual ceiling of 120 m"
    said = replace(RESULT, ceiling_said=True)
    assert ceiling_text(replace(said, ceiling_m=90.0)) == "your ceiling of 90 m"
    # also where it is as high as the usual one
    assert ceiling_text(said) == "your ceiling of 120 m"


def test_entry_heights_that_differ_are_told_by_manoeuvre():
    study = deep()
    assert entries_text(study) == "entered at 120 m, floor 40 m"
    low = study.setups[0]
    spin = replace(low.cases[1], entry_m=200.0)
    both = replace(study, setups=(replace(low, cases=(low.cases[0], spin)),))
    wanted = "entered at 120 m in chop (floor 40 m) and 200 m in spin (floor 40 m)"
    assert entries_text(both) == wanted


def test_throw_comes_before_height_as_it_changes_every_flight():
    check = CheckLimit("touch-down", 0.0, 15.0, 1.0, 150.0, 194.0, 190.0, 198.0)
    forward = ForwardLimit(194.0, 190.0, 198.0, 36.0, 150.0, (check,), 256, 95.0, 100.0, ())
    study = deep()
    lines = mending_lines(replace(study.setups[0], forward=forward), study)
    assert [x.split(":")[0] for x in lines] == ["Throw", "Height"]
    assert "14 mm FORWARD of its forward limit, 194 mm" in lines[0]
    assert "Fly again: aftlimit study" in lines[1]
    # where more throw does not do, a larger elevator is told, and not to give more throw
    area = MoreArea(180.0, "tail", "chord_pct", 36.0, 46.8, 178.0, 175.0, 181.0, reached=True)
    (line, _) = mending_lines(replace(study.setups[0], forward=forward, more_area=area), study)
    assert line.startswith("Elevator: it lies 14 mm FORWARD")
    assert "write chord_pct = 46.8 into the elevator's [[surfaces.controls]]" in line
    assert "Give the pitch surface more travel" not in line


def test_where_the_search_found_no_place_balance_is_not_what_to_mend():
    study = deep(never=60)
    (low,) = study.setups
    assert any("Balance it further forward" in x for x in mending_lines(low, study))
    none = replace(limit("6s_4000", 200.0), aft_mm=None, setups=("low",))
    foremost = min(x.balance_aft_mm for x in none.steps)
    ahead = replace(low, balance_aft_mm=foremost + 20.0)
    told = " ".join(mending_lines(ahead, replace(study, aft_limits=(none,))))
    assert "Balance it" not in told
    assert f"no balance point from {foremost:.0f} mm on where enough do" in told
    assert failed_from_mm(ahead, (none,)) == foremost
    assert failed_from_mm(replace(low, balance_aft_mm=foremost), (none,)) is None
    assert failed_from_mm(ahead, (replace(none, aft_mm=150.0),)) is None


@pytest.mark.parametrize(
    ("lands_mm", "told"),
    [
        (150.2, "as far as it still lands (it still lands from 151 mm, 29 mm ahead of where"),
        (178.4, "further forward, once more elevator lets it land from there (it still lands from "
         "179 mm, 1 mm ahead of where it balances)"),
        (None, "further forward, as far as it still lands, and fly the study again"),
    ],
)  # fmt: skip
def test_how_little_way_forward_there_is_stands_beside_the_advice_to_go_there(lands_mm, told):
    study = deep(never=60)
    check = CheckLimit("touch-down", 0.0, 15.0, 1.0, 150.0, lands_mm or 0.0, 140.0, 190.0)
    forward = ForwardLimit(lands_mm, 140.0, 190.0, 36.0, 150.0, (check,), 256, 95.0, 100.0, ())
    low = replace(study.setups[0], forward=forward)
    assert any(told in x for x in mending_lines(low, study))


def test_places_that_the_tray_does_not_reach_are_told():
    found = limit("6s_4000", 200.0)
    tried = sorted({x.balance_aft_mm for x in found.steps})
    assert out_of_reach_text(found) == ""
    told = out_of_reach_text(replace(found, reach_mm=(tried[0] + 1.0, tried[-1] + 1.0)))
    assert f"1 of {len(tried)} places flown, {tried[0]:.0f} mm, lie ahead of that" in told
    assert "behind" not in told


def test_more_draws_go_on_in_the_same_folder_up_to_the_most():
    study = replace(result(), asked_by="mine.toml", options=(("--out", "here"),))
    draws = 2 * study.draws
    assert more_draws_command(study) == f"aftlimit study mine.toml --draws {draws} --out here"
    said = replace(study, draws=4096, options=(("--draws", "4096"), ("--floor-m", "30")))
    assert more_draws_command(said) == "aftlimit study mine.toml --draws 4096 --floor-m 30"
