"""How much more elevator brings the forward limit to a place, held against elevators enlarged."""

from dataclasses import replace

import pytest

from sim import tables
from sim.describe import load_aeroplane, resolve_setup
from sim.landing.landing import set_up_forward
from sim.landing.more_area import CHORD, SPAN, _grown, more_area
from sim.pack.assemble import flown_spreads
from sim.record.models.more_area import more_area_row
from sim.show.words.findings.mending import window_line
from sim.show.words.places.more_area import more_area_text, place_text
from sim.study.flights.draws import make_draws
from tests.samples.results import limit
from tests.unit.landing.test_window import forward

SPORT, JET = load_aeroplane("club_sport"), load_aeroplane("display_jet")
SIZES = tables.landing().elevator_sizes


def elevator(aeroplane):
    """Return the chord [%] of the flap that the elevator stick moves."""
    return next(
        control.chord_pct
        for surface in aeroplane.surfaces
        for control in surface.controls
        if aeroplane.channels[control.channel].stick.elevator
    )


def test_the_least_size_that_does_is_told_with_its_key():
    now = elevator(SPORT)
    moved = more_area(SPORT, 150.0, lambda x, _: forward(160.0 - 30.0 * (elevator(x) / now - 1.0)))
    assert (moved.key, moved.now, moved.reached) == (CHORD, now, True)
    # 10 mm take a third more: of 1.15, 1.3 and 1.5 the last
    assert moved.value == pytest.approx(SIZES[-1] * now, abs=0.05)
    assert moved.aft_mm <= 150.0
    told = more_area_text(moved)
    assert "brings the forward limit to" in told
    assert f"write {CHORD} = {moved.value:.1f} into the elevator's [[surfaces.controls]]" in told
    assert "the aft limit is not reckoned" in told
    assert more_area_row(moved).reached


def test_where_none_does_the_foremost_is_told_and_no_key_is_to_be_written():
    none = more_area(SPORT, 100.0, lambda x, _: forward(160.0 + elevator(x)))
    assert not none.reached
    assert none.value == pytest.approx(SIZES[0] * none.now, abs=0.05)
    told = more_area_text(none)
    assert told.startswith("More area alone does not do for 100 mm")
    assert "write" not in told
    assert more_area_text(None) == ""


def test_a_tail_that_moves_as_a_whole_grows_in_span():
    found = more_area(JET, 150.0, lambda x, _: forward(140.0))
    assert (found.key, found.surface) == (SPAN, "tail")
    assert f"{SPAN} = {found.value:.1f} into the [[surfaces]] named tail" in place_text(found)


def test_a_flap_that_would_be_wider_than_a_file_may_have_it_is_not_looked_at():
    wide = JET.model_copy()
    grown = [
        surface.model_copy(
            update={
                "controls": tuple(
                    c.model_copy(update={"chord_pct": 75.0}) if c.channel == "elevator" else c
                    for c in surface.controls
                )
            }
        )
        for surface in SPORT.surfaces
    ]
    wide = SPORT.model_copy(update={"surfaces": tuple(grown)})
    assert more_area(wide, 150.0, lambda x, _: forward(140.0)) is None


def test_a_larger_elevator_really_lands_from_further_forward():
    """A flap turns the air more the wider it is (thin aerofoils, Glauert; common practice)."""
    draws = make_draws(flown_spreads(SPORT), 32, 3).physical
    setup = resolve_setup(SPORT, SPORT.first_setup)
    now = set_up_forward(SPORT, setup, draws, 70.0)
    found = more_area(SPORT, -1000.0, lambda x, _: set_up_forward(x, setup, draws, 70.0))
    assert found.aft_mm < now.aft_mm


def test_the_line_of_what_to_mend_tells_throw_first_then_area():
    closed = replace(limit("6s_4000", 150.0), forward=forward(170.0))
    assert "Neither throw nor area was reckoned" in window_line(closed)
    area = more_area(SPORT, 150.0, lambda x, _: forward(140.0))
    line = window_line(replace(closed, more_area=area))
    assert line.startswith("Window: no balance point both lands and comes back. ")
    assert more_area_text(area) in line


def test_all_pieces_of_a_flap_grow_alike():
    """Own: one that is told in pieces is one flap."""
    sport = load_aeroplane("club_sport")
    tail = next(x for x in sport.surfaces if x.name == "tailplane" or x.role == "tail")
    (whole,) = tail.controls
    middle = 0.5 * (whole.inner_pct + whole.outer_pct)
    pieces = (
        whole.model_copy(update={"outer_pct": middle}),
        whole.model_copy(update={"inner_pct": middle, CHORD: 0.9 * whole.chord_pct}),
    )
    grown = _grown(tail.model_copy(update={"controls": pieces}), 0, CHORD, 1.2 * whole.chord_pct)
    assert [x.chord_pct / whole.chord_pct for x in grown.controls] == pytest.approx([1.2, 1.08])
    surfaces = tuple(
        x.model_copy(update={"controls": pieces}) if x is tail else x for x in sport.surfaces
    )
    cut = sport.model_copy(update={"surfaces": surfaces})
    told = place_text(more_area(cut, 150.0, lambda x, _: forward(140.0)))
    assert "the elevator's first [[surfaces.controls]]" in told
    assert told.endswith(f"and each of its others {SIZES[0]:.2f} times")


def test_no_size_is_looked_at_that_no_file_could_say_of_every_piece():
    # what is told, each piece so many times, is what was looked at: a piece of 60 % of the chord
    # may grow to 1.3 times that, 78 %, as 80 % are the most that a file takes, and not to 1.5
    tail = next(x for x in SPORT.surfaces if any(c.channel == "elevator" for c in x.controls))
    (whole,) = (c for c in tail.controls if c.channel == "elevator")
    ends = {"inner_pct": 50.0, "chord_pct": 60.0}
    pieces = (
        whole.model_copy(update={"outer_pct": 50.0}), whole.model_copy(update=ends),
    )  # fmt: skip
    two = tail.model_copy(update={"controls": pieces})
    told = SPORT.model_copy(
        update={"surfaces": tuple(two if x is tail else x for x in SPORT.surfaces)}
    )
    sizes = []

    def limit_of(larger, size):
        (flap,) = (x for x in larger.surfaces if x.name == tail.name)
        sizes.append(
            tuple(c.chord_pct / x.chord_pct for c, x in zip(flap.controls, pieces, strict=True))
        )
        return forward(160.0)

    more_area(told, 100.0, limit_of)
    assert len(sizes) == sum(60.0 * x <= 80.0 for x in SIZES)
    for one, size in zip(sizes, SIZES, strict=False):
        assert one == pytest.approx((size, size), rel=0.01)
