"""From a flight's summary to its verdict, spin mode and events."""

from sim.judge.confidence import wilson
from sim.judge.deep_stall import Hang, has_hung, typical_hangs
from sim.judge.events import Event, events_of
from sim.judge.looks import Looks, can_show, least_draws, looks_for
from sim.judge.outcomes import Outcome, outcome, worst
from sim.judge.spins import Spin, mode_name, typical_spin
from sim.judge.verdicts import (
    Reason,
    Shares,
    Verdict,
    is_back,
    is_resolved,
    reasons_of,
    shares_of,
    verdict_of,
    verdicts_of,
)

__all__ = [
    "Event",
    "Hang",
    "Looks",
    "Outcome",
    "Reason",
    "Shares",
    "Spin",
    "Verdict",
    "can_show",
    "events_of",
    "has_hung",
    "is_back",
    "is_resolved",
    "least_draws",
    "looks_for",
    "mode_name",
    "outcome",
    "reasons_of",
    "shares_of",
    "typical_hangs",
    "typical_spin",
    "verdict_of",
    "verdicts_of",
    "wilson",
    "worst",
]
