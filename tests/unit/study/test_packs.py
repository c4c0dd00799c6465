"""Packs held against each other: dominance, the best compromise, and what is never marked."""

from dataclasses import replace

import pytest

from sim.core import script_layout as s
from sim.landing.forward import ForwardLimit
from sim.show.words.findings.packs import pack_heads, pack_rows, packs_text
from sim.study.results.flight_time import Spread
from sim.study.standing.packs import pack_choices
from tests.samples.results import FLOOR_M, result, setup
from tests.samples.timed import TIME


def needing(rows, height):
    """Return flights that all need just so much entry height [m], where they came back."""
    rows = rows.copy()
    rows[:, s.R_DROP] = height - FLOOR_M
    return rows


def packed(name, minutes, height, stall, never=0):
    time = replace(TIME, pack=name, minutes=Spread(minutes - 1.0, minutes, minutes + 1.0))
    made = setup(name, 178.0, never)
    cases = tuple(replace(c, rows=needing(c.rows, height)) for c in made.cases)
    return replace(
        made, pack=name, flight_time=time, cases=cases, stall_speed_mps=stall, added_weights=()
    )


@pytest.fixture(scope="module")
def three():
    """A light pack, a heavy one, and one between; and a fourth that the light one beats."""
    return [
        packed("light", 3.0, 60.0, 10.0), packed("middle", 5.0, 80.0, 10.4),
        packed("heavy", 6.0, 120.0, 11.0), packed("worse", 2.5, 70.0, 10.1),
    ]  # fmt: skip


def chosen(setups):
    return {x.setup.pack: x for x in pack_choices(replace(result(), setups=tuple(setups)))}


def test_the_compromise_gives_up_least(three):
    """By hand: light loses half the minutes, heavy needs twice the height, middle a third more."""
    found = chosen(three)
    assert [name for name, x in found.items() if x.best] == ["middle"]
    assert found["worse"].beaten_by == "light"
    told = packs_text(list(found.values()))
    assert told.startswith(">middle is a compromise")
    assert "Beaten in everything compared: worse by light." in told
    rows = pack_rows(list(found.values()))
    assert rows[1][0] == ">middle"
    assert {len(row) for row in rows} == {len(pack_heads(list(found.values())))}


def test_no_pack_is_marked_that_does_not_meet_the_requirement(three):
    lost = packed("long", 9.0, 50.0, 9.0, never=90)
    found = chosen([*three[:2], lost])
    assert not found["long"].in_question
    assert not found["long"].best
    told = packs_text(list(found.values()))
    assert "Left out, not known to meet the requirement: long." in told
    nothing = chosen([packed(x, 5.0, 80.0, 10.0, never=90) for x in ("one", "two")])
    assert not any(x.best for x in nothing.values())
    assert packs_text(list(nothing.values())).startswith("No pack is marked")


def test_only_packs_that_differ_by_nothing_else_are_compared(three):
    assert chosen([three[0], replace(three[1], nozzle="nozzle 66 mm")]) == {}
    assert chosen([three[0], replace(three[1], pack="light")]) == {}
    assert chosen(three[:1]) == {}


def forward(nominal_mm, aft_mm):
    return ForwardLimit(aft_mm, aft_mm, aft_mm, 18.0, nominal_mm, (), 256, 95.0, aft_mm, ())


def test_a_pack_that_cannot_land_even_nominally_is_not_marked(three):
    """The sample balances at 178 mm: before 190 it does not land, before 185 it is not shown to."""
    heavy = replace(three[1], forward=forward(190.0, 195.0))
    light = replace(three[0], forward=forward(170.0, 185.0))
    found = chosen([light, heavy])
    assert [name for name, x in found.items() if x.best] == ["light"]
    told = packs_text(list(found.values()))
    assert told.startswith(">light is the only one not left out.")
    assert "too far forward to land or take off: middle." in told
    assert "light lies 7 mm FORWARD of its forward limit" in told


def test_agility_stands_in_the_row_by_what_tells_most(three):
    found = list(chosen(three).values())
    assert {x.telling.shows for x in found} == {"angle"}
    assert "peak\nangle,\ndeg" in pack_heads(found)
    assert pack_rows(found)[0][-2] == "69\n(66-72)"  # of the sample: 0.5 x 178 - 20 degrees
    none = list(chosen([replace(x, agility=()) for x in three]).values())
    assert "peak\nangle,\ndeg" not in pack_heads(none)
    assert len(pack_rows(none)[0]) == len(pack_heads(none))
