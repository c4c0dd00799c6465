"""From a summary row to events, outcome and verdict: plain cases with a known answer."""

from dataclasses import replace

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.judge.deep_stall import has_hung, typical_hangs
from sim.judge.events import events_of
from sim.judge.outcomes import Outcome, outcome, worst
from sim.judge.verdicts import shares_of
from tests.samples.results import ENTRY_M, FLOOR_M, summaries


def test_events_are_told_in_order_with_the_height_lost():
    history = np.zeros((11, s.N_HISTORY))
    history[:, s.H_T] = np.arange(11.0)
    history[:, s.H_UP] = 100.0 - 2.0 * np.arange(11.0)
    summary = np.full(s.N_SUMMARY, -1.0)
    summary[s.R_T_LEVEL], summary[s.R_T_STALL] = 8.0, 3.0
    told = [(e.name, e.time_s, e.height_lost_m) for e in events_of(history, summary)]
    assert told == [("stall", 3.0, 6.0), ("level", 8.0, 16.0)]
    summary[s.R_T_UNSTALLED] = 6.0
    assert [e.name for e in events_of(history, summary)][1] == "unstalled, rotation stopped"
    summary[s.R_T_STALL] = -1.0  # what never stalled is never unstalled
    assert [e.name for e in events_of(history, summary)] == ["level"]


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [(0.95, 1.0, Outcome.MET), (0.9, 0.96, Outcome.OPEN), (0.5, 0.94, Outcome.NOT_MET)],
)
def test_only_both_limits_on_one_side_decide(low, high, said):
    shares = shares_of(summaries(8, 0, 20.0), ENTRY_M, FLOOR_M)
    assert outcome(replace(shares, back_low=low, back_high=high), 95.0) is said
    assert worst([Outcome.MET, said]) is said
    assert worst([]) is Outcome.MET


def test_shares_count_every_flight_once():
    shares = shares_of(summaries(16, 5, 20.0), ENTRY_M, FLOOR_M)
    assert (shares.flights, shares.lost, shares.never) == (16, 5, 5)
    assert shares.held + shares.recovered + shares.lost + shares.unresolved == 16


def test_none_hung_is_no_deep_stall():
    rows = summaries(4, 2, 20.0)
    assert not has_hung(rows).any()
    assert typical_hangs(rows) == ()
