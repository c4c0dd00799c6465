"""What is held of deep stalls: which set-ups hang, what ends it, and whether to keep away."""

from collections import Counter
from collections.abc import Iterator

from sim import tables
from sim.judge import Outcome, Reason
from sim.study.results.result import StudyResult
from sim.study.results.set_up import DeepStall, SetUpResult, WayOut
from sim.study.standing.outcomes import best_recovery, setup_outcome


def hung_setups(result: StudyResult) -> Iterator[tuple[SetUpResult, DeepStall]]:
    """Yield the set-ups that flights hung in, with their deep stall."""
    for setup in result.setups:
        if setup.deep_stall is not None:
            yield setup, setup.deep_stall


def best_way(deep_stall: DeepStall) -> WayOut | None:
    """Return the way out that most come out by, the cheaper of two alike; None if none does."""
    out = [way for way in deep_stall.ways if way.out > 0]
    return max(
        out, key=lambda way: (way.out / way.flights, -(way.height_m.median or 0.0)), default=None
    )


def way_outcome(way: WayOut) -> Outcome:
    """Return whether a way ends it more often than not, by the limits of its share."""
    share = tables.judge().deep_stall_ends_share
    if way.low >= share:
        return Outcome.MET
    return Outcome.NOT_MET if way.high < share else Outcome.OPEN


def hung_above_all(setup: SetUpResult, required_share_pct: float) -> bool:
    """Return whether more flights of the set-up are lost by hanging than for any other reason."""
    counts: Counter[Reason] = Counter()
    for case in best_recovery(setup, required_share_pct):
        counts.update(case.shares.reasons)
    hung = counts.pop(Reason.DEEP_STALL, 0) + counts.pop(Reason.HUNG_LATE, 0)
    return hung > max(counts.values(), default=0)


def lost_by_hanging(result: StudyResult) -> list[str]:
    """Return the names of set-ups that do not meet the requirement, above all by hanging."""
    asked = result.required_share_pct
    return [
        setup.name
        for setup, _ in hung_setups(result)
        if setup_outcome(setup, asked) is not Outcome.MET and hung_above_all(setup, asked)
    ]


def never_to_hang(deep_stall: DeepStall) -> bool:
    """Return True if no way tried ends a deep stall, or the best one is shown not to."""
    best = best_way(deep_stall)
    return best is None or way_outcome(best) is Outcome.NOT_MET
