"""The path of one flight in space, coloured by angle of attack, over the ground."""

from collections.abc import Sequence

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator
from mpl_toolkits.mplot3d.art3d import Line3DCollection, Poly3DCollection
from mpl_toolkits.mplot3d.axes3d import Axes3D

from sim.core import script_layout as s
from sim.describe.study import ENTRY_M, FLOOR_M
from sim.fly.flying import Flight
from sim.judge import Event, events_of
from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, SHEET, STYLE, new_figure, styled
from sim.show.drawing.scales import in_units
from sim.units.quantities import HEIGHT

EVENT_MARKS = {
    "stall": "v",
    "departure": "X",
    "recovery starts": "s",
    "unstalled, rotation stopped": "o",
    "level": "^",
}
SPAN_EVERY_S = 0.4
SPAN_SHARE = 0.055  # half of a drawn span, as a share of the largest extent: not to scale
LEAST_M = 10.0
LEAST_SHARE = 0.55  # the ground drawn is at least this wide, as a share of the height


def positions(flight: Flight, entry_m: float) -> np.ndarray:
    """Return east, north and height above the field (n, 3) [m] of a flight entered at a height."""
    h = flight.history
    height = entry_m + h[:, s.H_UP] - h[0, s.H_UP]
    return np.column_stack([h[:, s.H_E], h[:, s.H_N], height])


def right_wing(history: np.ndarray) -> np.ndarray:
    """Return the unit vector to the right wing tip (n, 3), east, north, up.

    The second column of the direction cosines of the Euler angles, yaw, pitch, roll in
    that order [etkin1996] sec. 4.4, turned from north, east, down.
    """
    phi, theta, psi = (history[:, c] for c in (s.H_PHI, s.H_THETA, s.H_PSI))
    north = np.sin(phi) * np.sin(theta) * np.cos(psi) - np.cos(phi) * np.sin(psi)
    east = np.sin(phi) * np.sin(theta) * np.sin(psi) + np.cos(phi) * np.cos(psi)
    down = np.sin(phi) * np.cos(theta)
    return np.column_stack([east, north, -down])


def path_axes(figure: Figure) -> Axes:
    """Return axes in space for a path, in the house style."""
    with mpl.rc_context(STYLE):
        return figure.add_subplot(projection="3d")


@styled
def draw_flight_path(
    axes: Axes, flight: Flight, entry_m: float = ENTRY_M, floor_m: float | None = FLOOR_M
) -> None:
    """Draw the path of a flight in space, to one scale in all directions.

    Parameters
    ----------
    axes : Axes
        From `path_axes`, or any with ``projection="3d"``.
    entry_m : float
        Height above the field at the start [m].
    floor_m : float, optional
        Height of the floor, drawn as a plane; None leaves it out.

    Notes
    -----
    Colour: angle of attack. Short lines: the wing, pale to the left (not to scale). Grey:
    shadow on the ground. Marks: events.

    Raises
    ------
    ValueError
        The axes lie in a plane.
    """
    if not isinstance(axes, Axes3D):
        raise ValueError('axes: a path needs axes in space; make them with projection="3d"')
    path = positions(flight, entry_m)
    alpha = np.degrees(flight.history[:, s.H_ALPHA])
    low, high = _cube(axes, path, floor_m)
    _plane(axes, low, high, 0.0, FAINT, 0.10)
    if floor_m is not None:
        _plane(axes, low, high, floor_m, BLUE, 0.16)
        axes.text(low[0], low[1], floor_m, f" floor {HEIGHT(floor_m)}", fontsize=8.5)
    axes.plot(path[:, 0], path[:, 1], np.zeros(len(path)), color=FAINT, lw=1.4)
    _wings(axes, flight.history, path, SPAN_SHARE * float(np.ptp(path, axis=0).max()))
    lines = np.stack([path[:-1], path[1:]], axis=1)
    ribbon = Line3DCollection(lines, cmap="cividis", lw=2.6)
    ribbon.set_array(0.5 * (alpha[:-1] + alpha[1:]))
    axes.add_collection3d(ribbon)
    bar = axes.figure.colorbar(ribbon, ax=axes, shrink=0.55, pad=0.02)
    bar.set_label("angle of attack, degrees")
    _events(axes, flight, path)
    axes.set_xlabel(f"east, {HEIGHT}", labelpad=8.0)
    axes.set_ylabel(f"north, {HEIGHT}", labelpad=8.0)
    axes.set_zlabel(f"height above the field, {HEIGHT}", labelpad=10.0)
    axes.view_init(elev=16.0, azim=-55.0)


def _cube(axes: Axes3D, path: np.ndarray, floor_m: float | None) -> tuple[np.ndarray, np.ndarray]:
    """Set the limits so that a metre is as long in every direction; return them (3,)."""
    low, high = path.min(axis=0), path.max(axis=0)
    low[2] = min(low[2], 0.0)
    high[2] = max(high[2], floor_m or 0.0)
    least = max(LEAST_M, LEAST_SHARE * (high[2] - low[2]))
    extent = high - low
    room = np.maximum(0.06 * extent, 0.5 * np.maximum(least - extent, 0.0))
    low, high = low - room, high + room
    low[2] = min(0.0, path[:, 2].min())
    axes.set(xlim=(low[0], high[0]), ylim=(low[1], high[1]), zlim=(low[2], high[2]))
    axes.set_box_aspect(tuple(high - low), zoom=0.93)
    for axis, extent in zip((axes.xaxis, axes.yaxis, axes.zaxis), high - low, strict=True):
        share = extent / (high - low).max()
        axis.set_major_locator(MaxNLocator(max(3, round(6 * share))))
        in_units(axis, HEIGHT, max(3, round(6 * share)))
        axis.set_pane_color((1.0, 1.0, 1.0, 0.0))
    return low, high


def _plane(
    axes: Axes3D, low: np.ndarray, high: np.ndarray, height: float, colour: str, alpha: float
) -> None:
    corners = [(low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1])]
    sheet = Poly3DCollection(
        [[(x, y, height) for x, y in corners]], fc=colour, ec=FAINT, alpha=alpha
    )
    axes.add_collection3d(sheet)


def _wings(axes: Axes3D, history: np.ndarray, path: np.ndarray, half: float) -> None:
    time = history[:, s.H_T]
    at = np.unique(np.searchsorted(time, np.arange(time[0], time[-1], SPAN_EVERY_S)))
    tip = half * right_wing(history)[at]
    for side, colour in ((1.0, INK), (-1.0, FAINT)):
        spans = np.stack([path[at], path[at] + side * tip], axis=1)
        axes.add_collection3d(Line3DCollection(spans, colors=colour, lw=0.9))


def _events(axes: Axes3D, flight: Flight, path: np.ndarray) -> None:
    events: Sequence[Event] = events_of(flight.history, flight.summary)
    for event in events:
        i = min(int(np.searchsorted(flight.history[:, s.H_T], event.time_s)), len(path) - 1)
        axes.plot(
            *path[i : i + 1].T, EVENT_MARKS.get(event.name, "o"), ms=8, mfc=SHEET, mec=MARK,
            mew=1.5, label=f"{event.name}: {event.time_s:.1f} s, {HEIGHT(path[i, 2])}", zorder=9,
        )  # fmt: skip
    if events:
        axes.legend(loc="upper left", fontsize=8.5, bbox_to_anchor=(0.0, 1.0))


def path_figure(flight: Flight, entry_m: float, floor_m: float | None, title: str = "") -> Figure:
    """Return a figure with the path of a flight in space."""
    # labels in space lie outside what a layout engine knows of
    figure = new_figure(9.0, 8.0, arranged=False)
    figure.subplots_adjust(left=0.01, right=0.97, bottom=0.03, top=0.93)
    draw_flight_path(path_axes(figure), flight, entry_m, floor_m)
    if title:
        figure.suptitle(title, x=0.02, ha="left", weight="bold", fontsize=11)
    return figure
