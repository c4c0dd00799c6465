"""How a share that came back stands against the one asked for."""

from collections.abc import Iterable
from enum import StrEnum

from sim.judge.verdicts import Shares


class Outcome(StrEnum):
    """How a share stands against the share asked for.

    ``MET``: its lower 95 % limit is at or above it; ``NOT_MET``: the upper one is below
    it; ``OPEN``: the draws flown cannot tell.
    """

    MET = "met"
    OPEN = "undecided"
    NOT_MET = "not met"


def outcome(shares: Shares, required_share_pct: float) -> Outcome:
    """Return how the share that came back stands against the one asked for [%].

    Own: its 95 % limits decide.
    """
    need = required_share_pct / 100.0
    if shares.back_low >= need:
        return Outcome.MET
    return Outcome.NOT_MET if shares.back_high < need else Outcome.OPEN


def worst(outcomes: Iterable[Outcome]) -> Outcome:
    """Return the least good of some outcomes; met where there are none."""
    order = list(Outcome)
    return max(outcomes, key=order.index, default=Outcome.MET)
