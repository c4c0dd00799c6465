"""Balance points of a search that a pack does not reach on its tray, in words."""

from collections.abc import Sequence

from sim.study.results.aft_limit import AftLimit
from sim.study.standing.bands import beyond_reach
from sim.units.quantities import LENGTH
from sim.units.ranges import range_words


def out_of_reach_text(limit: AftLimit) -> str:
    """Return which places of a search the pack does not reach on its tray; else empty."""
    ahead, behind = beyond_reach(limit)
    if limit.reach_mm is None or not (ahead or behind):
        return ""
    parts = [
        f"{len(places)} of {len({s.balance_aft_mm for s in limit.steps})} places flown, "
        f"{_places(places)}, lie {way} that"
        for places, way in ((ahead, "ahead of"), (behind, "behind"))
        if places
    ]
    front, rear = LENGTH.figure(limit.reach_mm[0]), LENGTH(limit.reach_mm[1])
    return (
        f"its tray alone balances it from {range_words(front, rear)}; {' and '.join(parts)}, and "
        "were flown with weight added"
    )


def _places(places: Sequence[float]) -> str:
    if len(places) == 1:
        return LENGTH(places[0])
    return range_words(LENGTH.figure(places[0]), LENGTH(places[-1]))
