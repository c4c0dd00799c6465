"""The map of spin equilibria: angle of attack along the balance point, or along the sticks."""

from collections.abc import Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from sim import tables
from sim.pack.stalling import Stall
from sim.show.drawing.canvas import BLUE, FAINT, INK, ORANGE, SHEET, WINE, one_axes, styled
from sim.show.drawing.scales import in_units
from sim.show.words.bench.placing import at_text, unit_text
from sim.spin.births import (
    DEEP_STALL,
    GLIDE,
    MUSH,
    SPIN,
    SPIRAL,
    TAIL_FIRST,
    Birth,
    kind_of,
)
from sim.spin.mapped import Mapped
from sim.spin.roots import SpinRoot
from sim.units.quantities import LENGTH

SHAPES = {SPIN: "o", SPIRAL: "v", DEEP_STALL: "s", TAIL_FIRST: "s", MUSH: "D", GLIDE: "D"}
WITH, AGAINST = BLUE, ORANGE  # turning with the rudder held for the spin, or against it
ROOM_DEG = 6.0  # above the highest and below the lowest point
STATE_WIDTH = {True: 1.8, False: 0.9}


def spin_map_page(mapped: Mapped) -> Figure:
    """Return a map as a picture of its own."""
    figure, axes = one_axes(9.0, 6.8)
    draw_spin_map(axes, mapped)
    return figure


@styled
def draw_spin_map(axes: Axes, mapped: Mapped) -> None:
    """Draw the equilibria along a map: filled where they hold themselves, open where not.

    The angle of attack upwards; crosses are what entries with the controls held on end in,
    with their swing.
    """
    spins = mapped.found
    angles = [root.alpha_deg for stop in spins.stops for root in stop.roots]
    lowest = min([0.0, *(alpha - ROOM_DEG for alpha in angles)])
    _bands(axes, lowest, max([90.0, *(alpha + ROOM_DEG for alpha in angles)]))
    for link in spins.links:
        one, other = spins.stops[link.stop], spins.stops[link.stop + 1]
        ends = one.roots[link.here], other.roots[link.there]
        stable = ends[0].stable and ends[1].stable
        axes.plot(
            [one.at, other.at], [root.alpha_deg for root in ends], color=_colour(ends[0]),
            lw=STATE_WIDTH[stable], ls="-" if stable else (0, (3, 2)), zorder=2,
        )  # fmt: skip
    for stop in spins.stops:
        for root in stop.roots:
            _mark(axes, stop.at, root, stop.stall)
    for flight in mapped.flown:
        axes.errorbar(
            flight.at, flight.end.alpha_deg, yerr=flight.end.swing_deg, fmt="x", color=INK,
            ms=8.0, mew=1.6, elinewidth=1.2, zorder=4,
        )  # fmt: skip
    begun = _marked(mapped)
    _births(axes, begun, mapped.unit)
    axes.set_xlabel(unit_text(mapped.along))
    if mapped.unit == "mm":
        in_units(axes.xaxis, LENGTH)
    axes.set_ylabel("angle of attack, deg")
    axes.set_title(mapped.title, pad=12.0 + 11.0 * len(begun))
    axes.legend(
        handles=_key(bool(mapped.flown)), loc="upper left", bbox_to_anchor=(0.0, -0.11), ncols=3
    )


def _colour(root: SpinRoot) -> str:
    return WITH if root.turn_dps >= 0.0 else AGAINST


def _mark(axes: Axes, at: float, root: SpinRoot, stall: Stall) -> None:
    colour = _colour(root)
    axes.plot(
        at, root.alpha_deg, SHAPES[kind_of(root, stall)], ms=7.0, mew=1.4, zorder=3,
        mfc=colour if root.stable else SHEET, mec=INK if root.stable else colour,
    )  # fmt: skip


def _bands(axes: Axes, lowest: float, highest: float) -> None:
    """Draw the bounds of the named spin modes, with the names at the right."""
    modes = tables.judge().spin_modes
    signs = ((1.0, ""), (-1.0, "inverted, ")) if lowest < 0.0 else ((1.0, ""),)
    for sign, prefix in signs:
        low = 0.0
        for upper, name in zip(modes.upper_alpha_deg, modes.names, strict=True):
            middle = sign * 0.5 * (low + upper)
            axes.axhline(sign * low, color=FAINT, lw=0.7, ls=":", zorder=1)
            if middle > lowest:
                _beside(axes, middle, prefix + name)
            low = upper
        axes.axhline(sign * low, color=FAINT, lw=0.7, ls=":", zorder=1)
        if lowest < sign * (low + ROOM_DEG) < highest:
            _beside(axes, sign * (low + ROOM_DEG), prefix + "tail first")
    axes.set_ylim(lowest, highest)


def _beside(axes: Axes, alpha_deg: float, text: str) -> None:
    """Write a mode's name at the right of the axes."""
    axes.annotate(
        text, (1.0, alpha_deg), xycoords=("axes fraction", "data"), xytext=(4, 0),
        textcoords="offset points", va="center", color=FAINT,
    )  # fmt: skip


def _marked(mapped: Mapped) -> list[Birth]:
    """Return the births to mark, in order: of what holds itself, and not at the map's start."""
    kept = [b for b in mapped.births if b.stable and b.within is not None]
    return sorted(kept, key=lambda birth: birth.at)


def _births(axes: Axes, begun: Sequence[Birth], unit: str) -> None:
    """Mark where flat modes that hold themselves begin."""
    for i, birth in enumerate(begun):
        axes.axvline(birth.at, color=WINE, lw=0.9, ls="--", zorder=1)
        name = birth.mode.removeprefix("no spin: ").removeprefix("erect, ")
        against = ", against the rudder" if birth.side == "left" else ""
        axes.annotate(
            f"{name} from {at_text(birth.at, unit)}{against}", (birth.at, 1.0),
            xycoords=("data", "axes fraction"), xytext=(0, 3 + 11 * i),
            textcoords="offset points", ha="center", color=WINE,
        )  # fmt: skip


def _key(flown: bool) -> list[Line2D]:
    """Return the legend's entries."""

    def entry(label: str, marker: str, face: str, edge: str) -> Line2D:
        return Line2D([], [], ls="", marker=marker, ms=7.0, mfc=face, mec=edge, label=label)

    out = [
        entry("holds itself (filled)", "o", WITH, INK),
        entry("does not (open)", "o", SHEET, WITH),
        entry("turning against the rudder", "o", AGAINST, INK),
        entry("spin", SHAPES[SPIN], SHEET, INK),
        entry("deep stall, or tail first", SHAPES[DEEP_STALL], SHEET, INK),
        entry("spiral, not stalled", SHAPES[SPIRAL], SHEET, INK),
        entry("glide or mush", SHAPES[GLIDE], SHEET, INK),
    ]
    if flown:
        out.append(entry("where an entry flown and held ends, ± swing", "x", INK, INK))
    return out
