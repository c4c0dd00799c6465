"""From a flight's summary to its verdict, spin mode and events."""

from sim.judge.confidence import wilson
from sim.judge.events import Event, events_of
from sim.judge.spins import Spin, mode_name, typical_spin
from sim.judge.verdicts import Shares, Verdict, shares_of, verdict_of, verdicts_of

__all__ = [
    "Event",
    "Shares",
    "Spin",
    "Verdict",
    "events_of",
    "mode_name",
    "shares_of",
    "typical_spin",
    "verdict_of",
    "verdicts_of",
    "wilson",
]
