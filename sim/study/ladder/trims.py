"""How much of its travel level trim may take before a test ends, and which set-ups take more."""

from dataclasses import dataclass
from math import inf

from sim import tables
from sim.study.ladder.ladder import Ladder

Travel = tuple[float, float]  # of a pitch surface, up and down [deg]


@dataclass(frozen=True)
class TrimRule:
    """What level trim in cruise says of a set-up and the ladder that leads to it.

    ``share`` is the share of its travel at which a test ends (card.toml). ``broken`` names the
    set-ups whose median trim lies beyond that as they stand, with it [deg, trailing edge down
    positive]; ``step_beyond`` is True where one of the bands predicted does. ``near`` names those
    whose median lies within it, but no further from it than a surface is read (card.toml).
    """

    share: float
    broken: tuple[tuple[str, float], ...]
    step_beyond: bool
    near: tuple[tuple[str, float], ...] = ()


def trim_rule(ladder: Ladder, today: Travel, own: Travel) -> TrimRule:
    """Return the rule on level trim for a ladder.

    ``today`` and ``own`` are the travels of the set-up flown today and of the wanted one.
    """
    share = tables.card().trim_share_of_travel
    ends = ((ladder.today, ladder.today_tail, today), (ladder.setup, ladder.own_tail, own))
    broken = dict.fromkeys(
        (name, band.middle)
        for name, band, travel in ends
        if band.middle is not None and share_of_travel(band.middle, travel) > share
    )
    read = tables.card().read_deg
    near = dict.fromkeys(
        (name, band.middle)
        for name, band, travel in ends
        if band.middle is not None
        and (name, band.middle) not in broken
        and share_of_travel(band.middle + (read if band.middle > 0.0 else -read), travel) > share
    )
    bands = [ladder.own_tail, *(step.seen.tail_deg for step in ladder.steps)]
    edges = [x for band in bands for x in (band.low, band.high) if x is not None]
    return TrimRule(
        share, tuple(broken), any(share_of_travel(x, own) > share for x in edges), tuple(near)
    )


def share_of_travel(tail_deg: float, travel: Travel) -> float:
    """Return which share of its travel a pitch surface takes [-]; infinite without travel.

    ``tail_deg`` is positive with the trailing edge down.
    """
    up, down = travel
    most = down if tail_deg > 0.0 else up
    return abs(tail_deg) / most if most > 0.0 else inf
