"""What an equilibrium is called, and where along a map a flat mode is born."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees, radians

from sim import tables
from sim.judge.spins import MUSH, mode_name
from sim.pack.stalling import Stall
from sim.spin.map import Maker, SpinMap, Stop, carried
from sim.spin.roots import SpinRoot, root_of

SPIN, SPIRAL, GLIDE, DEEP_STALL = "spin", "spiral", "glide", "deep stall"
TAIL_FIRST = "tail first"  # falls so, without turning


def kind_of(root: SpinRoot, stall: Stall) -> str:
    """Return whether an equilibrium is a spin, by the judge's thresholds.

    A spin turns at least as fast as the judge asks, from the angle on where the judge counts a
    flight's turns as those of a spin, short of the nominal stall, upright or inverted, by what
    its angle may be less; a spiral turns so but is not stalled. Without such
    a turn it is a glide, a mush beyond the stall, or a deep stall beyond NASA's bound of the
    steep spin.
    """
    values = tables.judge()
    size, limit = abs(root.alpha_deg), degrees(stall.angle(root.alpha_deg))
    if abs(root.turn_dps) >= values.spin_rate_dps:
        return SPIN if size > limit + values.turns_margin_deg else SPIRAL
    if size > values.spin_modes.upper_alpha_deg[-1]:
        return TAIL_FIRST
    if size > values.spin_modes.upper_alpha_deg[0]:
        return DEEP_STALL
    return MUSH if size > limit else GLIDE


def name_of(root: SpinRoot, stall: Stall) -> str:
    """Return the words for an equilibrium: NASA's mode of a spin, or why it is none.

    NASA's names end at 90 degrees; a steady spin beyond them falls tail first.
    """
    kind = kind_of(root, stall)
    named_to = tables.judge().spin_modes.upper_alpha_deg[-1]
    if kind == SPIN and abs(root.alpha_deg) > named_to:
        return "erect, tail first" if root.alpha_deg > 0.0 else "inverted, tail first"
    if kind == SPIN:
        return mode_name(radians(root.alpha_deg), 0.0)
    words = {
        SPIRAL: "no spin: spiral, not stalled",
        GLIDE: "no spin: glide",
        MUSH: "no spin: mush",
        DEEP_STALL: "no spin: deep stall",
        TAIL_FIRST: "no spin: falls tail first",
    }
    inverted = kind == DEEP_STALL and root.alpha_deg < 0.0
    return words[kind] + (", inverted" if inverted else "")


@dataclass(frozen=True)
class Birth:
    """Where a kind of equilibrium is first met on the way along a map.

    ``mode`` is its name and ``side`` the way it turns ("right", "left" or ""); ``at`` the
    first value that has it, ``within`` how far before that it may begin, None if it is
    there from the map's start; ``stable`` whether it holds itself there; ``last`` the last
    stop that has it, None if it goes on to the map's end.
    """

    mode: str
    side: str
    at: float
    within: float | None
    stable: bool
    last: float | None


def _label(root: SpinRoot, stall: Stall) -> tuple[str, str]:
    name = name_of(root, stall)
    if kind_of(root, stall) == DEEP_STALL:
        return name, ""
    return name, "right" if root.turn_dps > 0.0 else "left"


def _flat(root: SpinRoot, stall: Stall) -> bool:
    """Return True for a moderately flat or flat spin, or a deep stall, nose first."""
    bounds = tables.judge().spin_modes.upper_alpha_deg
    kind = kind_of(root, stall)
    return kind == DEEP_STALL or (kind == SPIN and bounds[1] < abs(root.alpha_deg) <= bounds[-1])


def births(make: Maker, found: SpinMap) -> list[Birth]:
    """Return where each flat mode and deep stall is first met, in the map's order.

    Between the last stop without and the first with it, the equilibrium is handed back by
    halves, until it ends or is called something else.
    """
    held: dict[tuple[str, str], list[int]] = {}
    for i, stop in enumerate(found.stops):
        flat = [root for root in stop.roots if _flat(root, stop.stall)]
        for label in sorted({_label(root, stop.stall) for root in flat}):
            held.setdefault(label, []).append(i)
    return [_birth(make, found.stops, label, where) for label, where in held.items()]


def _birth(make: Maker, stops: Sequence[Stop], label: tuple[str, str], where: list[int]) -> Birth:
    """Return the birth of ``label``, met at the stops ``where``, by halves of the path [mm, %].

    Own: a branch handed back until it ends.
    """
    first = stops[where[0]]
    roots = [root for root in first.roots if _label(root, first.stall) == label]
    last = None if where[-1] == len(stops) - 1 else stops[where[-1]].at
    if where[0] == 0:
        return Birth(*label, first.at, None, any(root.stable for root in roots), last)
    least = tables.spin_search().birth_within
    low, high = stops[where[0] - 1].at, first.at
    while abs(high - low) > least:
        middle = 0.5 * (low + high)
        handed = _carried_all(make, middle, label, roots)
        if handed:
            high, roots = middle, handed
        else:
            low = middle
    return Birth(*label, high, abs(high - low), any(root.stable for root in roots), last)


def _carried_all(
    make: Maker, at: float, label: tuple[str, str], roots: list[SpinRoot]
) -> list[SpinRoot]:
    """Return the roots that are still called ``label`` when handed on to another value."""
    balance = make(at)
    handed = [carried(balance, root) for root in roots]
    there = [root_of(balance, z) for z in handed if z is not None]
    return [root for root in there if _label(root, balance.assembled.stall) == label]
