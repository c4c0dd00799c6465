"""What the standing recovery does not end: which flights, and what other recoveries did there."""

from dataclasses import replace

import numpy as np

from sim.core import script_layout as s
from sim.show.words.recovery.in_vain import in_vain_line, in_vain_short, in_vain_texts
from sim.study.standing.in_vain import in_vain
from tests.samples.results import case, result, setup, summaries

REQUIRED = 95.0


def flown(lost, other_lost=(), only=None):
    """Return a set-up whose first recovery loses draws in departures, and a second one others."""
    rows = summaries(128, 0, 20.0)
    rows[:, s.R_T_STALL] = 1.0
    other = rows.copy()
    for these, draws in ((rows, lost), (other, other_lost)):
        these[list(draws), s.R_BACK] = 0.0
        these[list(draws), s.R_DEPARTED] = 1.0
    one = setup("club", 180.0, 0)
    first = case("spin", "centre", rows)
    second = replace(case("spin", "rudder_forward", other), which=np.arange(128))
    if only is not None:
        second = replace(second, rows=other[:only], which=np.arange(only))
    return replace(one, cases=(first, second))


def test_of_the_draws_that_one_recovery_loses_it_is_told_how_many_another_brought_back():
    # lost of 4: 0, 3, 50, 100; the other one flew the first 64, and loses draw 3 as well as 9
    four = flown([0, 3, 50, 100], [3, 9, 11, 12, 13, 14], only=64)
    (found,) = in_vain(four, REQUIRED)
    assert (found.recovery, found.manoeuvre) == ("centre", "spin")
    assert (found.lost, found.flights) == (4, 128)
    (other,) = found.others
    assert (other.recovery, other.flown, other.back) == ("rudder_forward", 3, 2)
    assert in_vain_texts(four, result()) == (
        "Not ended by centre from any height: 4 of 128 in spin; rudder forward brought back 2 of "
        "the 3 of those that flew it, flown in its place, not after it: no promise.",
    )


def test_in_a_list_the_counts_alone_are_told():
    four = flown([0, 3, 50, 100], [3, 9, 11, 12, 13, 14], only=64)
    assert in_vain_short(four, result()) == (
        "Not ended by centre: 4 of 128 in spin (rudder forward 2 of 3 back)"
    )
    assert in_vain_short(flown([]), result()) == ""
    none = in_vain_short(flown([0, 3], range(8)), result())
    assert none.endswith("2 of 128 in spin (rudder forward 0 of 2 back, NOTHING TRIED ENDS IT)")


def test_a_tumble_is_named_and_nothing_tried_that_ends_it_is_said():
    over = flown([0, 3], range(8))
    rows = over.cases[0].rows
    # NASA's bound of the flattest spin by angle of attack is 90 degrees: beyond it, the nose goes
    # over the tail
    rows[0, s.R_PEAK_ALPHA], rows[0, s.R_LEAST_ALPHA] = np.radians(150.0), np.radians(-120.0)
    rows[3, s.R_PEAK_ALPHA], rows[3, s.R_LEAST_ALPHA] = np.radians(85.0), np.radians(-5.0)
    (told,) = in_vain_texts(over, result())
    assert "2 of 128 in spin, 1 of these TUMBLING nose over tail; NOTHING TRIED ENDS IT" in told
    assert in_vain_line(over, result()) == (
        "Not ended by centre in spin: 2, 1 TUMBLING; nothing tried ends it."
    )


def test_what_never_stalled_or_could_not_be_resolved_is_no_departure():
    calm = flown([0, 3], range(8))
    rows = calm.cases[0].rows
    rows[0, s.R_T_STALL], rows[0, s.R_DEPARTED] = -1.0, 0.0
    rows[3, s.R_STATUS] = s.STATUS_NO_TRIM
    assert in_vain(calm, REQUIRED) == ()
    assert in_vain_texts(calm, result()) == ()
    assert in_vain_line(calm, result()) == ""
