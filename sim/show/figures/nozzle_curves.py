"""What a nozzle's exit area does: pull and current standing still, cruise, top speed."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sim import tables
from sim.power.fan_stall import Blades
from sim.show.drawing.canvas import BLUE, FAINT, GREY, INK, MARK, WINE, new_figure, styled
from sim.show.drawing.scales import in_units
from sim.trim.nozzle import NozzleSweep
from sim.trim.performance import Performance
from sim.units.quantities import FORCE, LENGTH, SPEED, Quantity

PANELS = (
    ("static_n", 1.0, "pull standing still", "static", FORCE),
    ("static_a", 1.0, "current standing still, A", "", None),
    ("cruise_throttle", 100.0, "throttle in cruise, %", "", None),
    ("cruise_a", 1.0, "current in cruise, A", "cruise", None),
    ("top_mps", 1.0, "level top speed", "top", SPEED),
)
HEAD_ROOM = 0.25  # of the range of a curve, for the mark of the best


@styled
def nozzle_page(found: Performance, sweep: NozzleSweep) -> Figure:
    """Return a page of panels against the nozzle's area, the best marked."""
    figure = new_figure(9.5, 11.0)
    stack = list(figure.subplots(len(PANELS), 1, sharex=True))
    for axes, panel in zip(stack, PANELS, strict=True):
        _panel(axes, sweep, *panel)
    stack[-1].set_xlabel("exit area, % of the fan's ring")
    _diameters(stack[0], sweep)
    ready = found.ready
    figure.suptitle(
        f"{ready.aeroplane.title}, set-up {ready.setup.name}: nozzles, nominal; cruise at "
        f"{SPEED(sweep.cruise_mps, '.1f')}.\nGrey: usual. Dashed: blades stall or may. "
        "Circle: now. Diamond: best of the rest",
        x=0.01, ha="left", weight="bold",
    )  # fmt: skip
    return figure


def _panel(
    axes: Axes,
    sweep: NozzleSweep,
    field: str,
    scale: float,
    label: str,
    goal: str,
    unit: Quantity | None,
) -> None:
    """Draw one quantity against the area; ``goal`` names the best that is marked in it."""
    share = np.array([100.0 * row.ring_share for row in sweep.rows])
    value = np.array([scale * getattr(row, field) for row in sweep.rows])
    stalled = np.array([row.blades != Blades.ATTACHED for row in sweep.rows])
    low, high = tables.performance().nozzle_usual
    axes.axvspan(100.0 * low, 100.0 * high, color=GREY, alpha=0.6, lw=0)
    steady = np.flatnonzero(~stalled)
    first = int(steady[0]) if steady.size else share.size - 1
    axes.plot(share[: first + 1], value[: first + 1], color=FAINT, ls="--", lw=1.5)
    axes.plot(share[first:], value[first:], color=INK, lw=1.8)
    own = sweep.own
    axes.plot(
        100.0 * own.ring_share,
        scale * getattr(own, field),
        "o",
        ms=8,
        color=BLUE,
        mec=INK,
        zorder=5,
    )
    for best in sweep.best:
        if best.goal == goal:
            at = 100.0 * best.row.ring_share, scale * getattr(best.row, field)
            axes.plot(*at, "D", ms=8, color=WINE, mec=INK, zorder=6)
            axes.annotate(
                LENGTH(best.row.nozzle_mm), at, xytext=(0, 9), textcoords="offset points",
                ha="center", color=MARK, fontsize=9,
            )  # fmt: skip
    seen = value[np.isfinite(value)]
    if seen.size:
        room = HEAD_ROOM * max(float(np.ptp(seen)), 1e-3)
        axes.set_ylim(float(seen.min()) - 0.4 * room, float(seen.max()) + room)
    axes.set_title(label if unit is None else f"{label}, {unit}", fontsize=10)
    if unit is not None:
        in_units(axes.yaxis, unit)
    axes.grid(True)


def _diameters(axes: Axes, sweep: NozzleSweep) -> None:
    """Add the nozzle's diameter [mm] along the top."""
    scale = LENGTH.value(sweep.own.nozzle_mm) / np.sqrt(100.0 * sweep.own.ring_share)
    above = axes.secondary_xaxis(
        "top",
        functions=(
            lambda x: scale * np.sqrt(np.maximum(x, 0.0)),
            lambda d: (np.maximum(d, 0.0) / scale) ** 2,
        ),
    )
    above.set_xlabel(f"nozzle, {LENGTH}")
    axes.set_title(axes.get_title(loc="left"), fontsize=10, pad=34)
