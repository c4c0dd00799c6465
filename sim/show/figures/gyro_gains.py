"""What gain each axis of a gyro stands against speed, with what is set and the schedule."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sim.gyro.advice import Advice
from sim.gyro.allowed import Allowed
from sim.gyro.motion import AXES
from sim.show.drawing.canvas import (
    BLUE,
    FAINT,
    GREY,
    INK,
    MARK,
    ORANGE,
    new_figure,
    rows_of_axes,
    styled,
)
from sim.show.drawing.scales import in_units
from sim.units.quantities import SPEED


@styled
def draw_gyro_gains(axes: Axes, found: Allowed, advice: Advice, axis: int) -> None:
    """Draw one axis: what it stands, nominal and of nearly all draws, the schedule, what is set."""
    rows = [(at.point, at.axes[axis]) for at in found.points]
    axes.set_title(AXES[axis])
    axes.set_ylabel("deg per deg/s")
    if any(one is None for _, one in rows):
        axes.text(0.5, 0.5, "no surface moves it", transform=axes.transAxes, ha="center")
        axes.set_yticks([])
        return
    both = [(point, one) for point, one in rows if one is not None]
    speeds = np.array([point.speed_mps for point, _ in both[:-1]])
    swings = np.array([one.nominal.swings for _, one in both[:-1]])
    kept = np.array([one.nominal.kept for _, one in both[:-1]])
    advised = np.array([one.advised for _, one in both[:-1]])
    planned = np.array([advice.schedule.at(point.throttle)[axis] for point, _ in both[:-1]])
    axes.fill_between(speeds, 0.0, advised, color=GREY, lw=0.0)
    axes.plot(speeds, swings, color=MARK, lw=1.2, label="swings on its own, nominal")
    axes.plot(speeds, kept, color=FAINT, lw=1.2, ls="--", label="margins kept, nominal")
    axes.plot(speeds, advised, color=INK, lw=1.8, label="advised: nearly all draws, all axes on")
    axes.plot(speeds, planned, color=BLUE, lw=1.8, marker="o", ms=3.5, label="schedule by throttle")
    if both[0][1].set_gain is not None:
        has = np.array([one.set_gain or 0.0 for _, one in both])
        axes.plot(speeds, has[:-1], color=ORANGE, lw=1.8, ls="-.", label="as the set-up has it")
        axes.plot(
            [both[-1][0].speed_mps], has[-1:], "s", color=ORANGE, mec=INK, mew=0.6, ms=5,
            label="as set, dive at idle",
        )  # fmt: skip
    axes.plot(
        [both[-1][0].speed_mps], [both[-1][1].nominal.swings], "_", color=MARK, ms=9, mew=2.0,
        label="swings, dive at idle, nominal",
    )  # fmt: skip
    _dive(axes, both[-1][0].speed_mps, both[-1][1].advised, float(advice.schedule.at(0.0)[axis]))
    top = 1.6 * max(float(advised.max()), float(planned.max()))
    axes.set_ylim(0.0, top)
    axes.set_xlim(speeds[0] - 0.5, 1.07 * max(both[-1][0].speed_mps, speeds[-1]))
    in_units(axes.xaxis, SPEED)


def _dive(axes: Axes, speed: float, stands: float, idle: float) -> None:
    """Mark the dive at idle: what it stands, and what the schedule gives there."""
    axes.plot([speed], [stands], "D", color=INK, ms=5, label="advised, dive at idle")
    axes.plot(
        [speed], [idle], "X", color=BLUE, mec=INK, mew=0.6, ms=8, label="schedule, dive at idle"
    )


@styled
def gyro_gains_page(found: Allowed, advice: Advice) -> Figure:
    """Return a figure with the three axes below each other."""
    figure = new_figure(8.5, 9.5)
    rows = rows_of_axes(figure, [1.0, 1.0, 1.0])
    for axis, axes in enumerate(rows):
        draw_gyro_gains(axes, found, advice, axis)
    rows[-1].set_xlabel(f"speed, {SPEED}")
    ready = found.assembled
    figure.suptitle(f"{ready.aeroplane.title}, set-up {ready.setup.name}: gyro gains")
    shown = next((a for a in rows if a.get_legend_handles_labels()[0]), None)
    if shown is not None:
        figure.legend(*shown.get_legend_handles_labels(), loc="outside lower center", ncols=3)
    return figure
