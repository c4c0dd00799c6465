"""Studies: draws, planning, running, limits and storage."""

from sim.study.results.aft_limit import AftLimit, AftStep
from sim.study.results.result import Factor, StudyResult
from sim.study.results.set_up import CaseResult, Heights, SetUpResult, TrimLine
from sim.study.study import Watch, planned_flights, run_study

__all__ = [
    "AftLimit",
    "AftStep",
    "CaseResult",
    "Factor",
    "Heights",
    "SetUpResult",
    "StudyResult",
    "TrimLine",
    "Watch",
    "planned_flights",
    "run_study",
]
