"""Thrust that level flight takes and that throttles give, and the current, against speed."""

from math import isfinite

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sim.power.operating_point import operating_point
from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, ORANGE, WINE, new_figure, styled
from sim.show.drawing.scales import in_units
from sim.trim.performance import FASTER, Performance, taken
from sim.units.quantities import FORCE, SPEED

POINTS = 61
CLOSER = 2.0  # towards the stall, where the curve is steep
LINES = ((BLUE, "--"), (ORANGE, "-."), (WINE, "-"))


@styled
def draw_power_curves(thrust_axes: Axes, current_axes: Axes, found: Performance) -> None:
    """Draw thrust needed and given [N], and the current of both [A], against speed [m/s]."""
    stall, top = found.ready.stall.speed_mps, found.top_mps
    end = min(FASTER * top, float(found.required.speeds_mps[-1]))
    speeds = np.linspace(0.0, end, POINTS)
    flown = stall + (end - stall) * np.linspace(0.0, 1.0, POINTS) ** CLOSER
    needed = np.array([found.required.at(v) for v in flown])
    thrust_axes.plot(flown, needed, color=INK, lw=2.0, label="needed for level flight")
    level = [taken(found.ready, found.power, found.required, float(v)) for v in (*flown, top)]
    held = sorted((x.speed_mps, x.current_a) for x in level if x.held)
    current_axes.plot(*np.array(held).T, color=INK, lw=2.0, label="in level flight")
    for row, (colour, dash) in zip(found.throttles, LINES, strict=False):
        points = [
            operating_point(found.power, row.throttle, v, found.ready.density) for v in speeds
        ]
        name = f"throttle {100.0 * row.throttle:.0f} %"
        given, current = [x.net_thrust_n for x in points], [x.current_a for x in points]
        thrust_axes.plot(speeds, given, color=colour, ls=dash, lw=1.5, label=name)
        current_axes.plot(speeds, current, color=colour, ls=dash, lw=1.5, label=name)
        if isfinite(row.speed_mps):
            at = row.speed_mps, found.required.at(row.speed_mps)
            thrust_axes.plot(*at, "o", ms=5, color=colour, mec=INK, zorder=5)
            current_axes.plot(
                row.speed_mps, row.current_a, "o", ms=5, color=colour, mec=INK, zorder=5
            )
    thrust_axes.set_ylabel(f"thrust, {FORCE} (net)")
    thrust_axes.set_ylim(0.0, 1.08 * found.still.point.net_thrust_n)
    current_axes.set_ylabel("current out of the pack, A")
    current_axes.set_ylim(0.0, 1.08 * max(found.still.point.current_a, max(x[1] for x in held)))
    _frame(thrust_axes, current_axes, found, end)


def _frame(thrust_axes: Axes, current_axes: Axes, found: Performance, end: float) -> None:
    never = found.ready.aeroplane.structure.never_exceed_mps
    marks = [("stall", found.ready.stall.speed_mps, FAINT), ("never exceed", never, MARK)]
    for axes in (thrust_axes, current_axes):
        axes.set_xlim(0.0, end)
        axes.grid(True)
        for name, speed, colour in marks:
            if speed > end:
                continue
            axes.axvline(speed, color=colour, lw=1.0, ls=":")
            if axes is current_axes:
                continue
            inwards = 1.0 if speed < 0.5 * end else -1.0  # clear of the legend
            axes.annotate(
                name, (speed, 0.98), xycoords=("data", "axes fraction"), xytext=(3.0 * inwards, 0),
                textcoords="offset points", rotation=90, va="top", fontsize=8, color=colour,
                ha="left" if inwards > 0.0 else "right",
            )  # fmt: skip
    current_axes.set_xlabel(f"speed, {SPEED}")
    in_units(current_axes.xaxis, SPEED)
    in_units(thrust_axes.yaxis, FORCE)
    thrust_axes.legend(loc="upper left", bbox_to_anchor=(1.0, 1.0))


@styled
def power_page(found: Performance) -> Figure:
    """Return a page of thrust and current against speed."""
    figure = new_figure(9.5, 8.0)
    upper, lower = figure.subplots(2, 1, sharex=True)
    draw_power_curves(upper, lower, found)
    ready = found.ready
    figure.suptitle(
        f"{ready.aeroplane.title}, set-up {ready.setup.name}, pack {ready.setup.pack}: nominal.\n"
        "Dots: fastest level flight at each throttle",
        x=0.01, ha="left", weight="bold",
    )  # fmt: skip
    return figure
