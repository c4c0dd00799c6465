"""One flight over time: angles, rates, height and sink, sticks."""

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sim.core import script_layout as s
from sim.fly.flying import Flight
from sim.judge import Event, events_of
from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, ORANGE, styled
from sim.show.drawing.scales import in_units
from sim.units.quantities import HEIGHT, SPEED

PRO_SPIN = 0.5  # a stick further out than this in the entry is meant to make it depart
ROW_PT, LETTER_PT = 10.0, 4.8  # between two rows of names of 8 pt; a letter, and air
POINTS_PER_INCH, AXES_SHARE = 72.0, 0.7  # of a figure's width are its axes
EVENT_NAMES = {"unstalled, rotation stopped": "unstalled", "recovery starts": "recovery"}

Lines = tuple[tuple[np.ndarray, str, str, str], ...]


def _panels(history: np.ndarray) -> tuple[tuple[str, Lines], ...]:
    deg = np.degrees
    fallen = history[0, s.H_UP] - history[:, s.H_UP]
    return (
        ("angle, degrees", (
            (deg(history[:, s.H_ALPHA]), "angle of attack", INK, "-"),
            (deg(history[:, s.H_BETA]), "sideslip", ORANGE, "--"),
        )),
        ("rate, degrees/s", (
            (deg(history[:, s.H_P]), "roll", BLUE, "-"),
            (deg(history[:, s.H_Q]), "pitch", ORANGE, "--"),
            (deg(history[:, s.H_R]), "yaw", MARK, "-."),
        )),
        (f"height lost, {HEIGHT}", ((fallen, "height lost", INK, "-"),)),
        (f"speed, {SPEED}", (
            (history[:, s.H_SPEED], "airspeed", INK, "-"),
            (-history[:, s.H_CLIMB], "sink", MARK, "--"),
        )),
        ("stick, 1 = full", (
            (history[:, s.H_ELEVATOR], "elevator (aft +)", INK, "-"),
            (history[:, s.H_AILERON], "aileron (right +)", BLUE, "--"),
            (history[:, s.H_RUDDER], "rudder (right +)", MARK, "-."),
            (history[:, s.H_THROTTLE], "throttle", ORANGE, ":"),
        )),
    )  # fmt: skip


def pro_spin_span(history: np.ndarray) -> tuple[float, float] | None:
    """Return from when to when [s] the sticks of the entry ask for a departure; None: never."""
    sticks = np.abs(history[:, [s.H_ELEVATOR, s.H_AILERON, s.H_RUDDER]]).max(axis=1)
    asked = np.flatnonzero((history[:, s.H_STAGE] == s.STAGE_ENTRY) & (sticks > PRO_SPIN))
    if asked.size == 0:
        return None
    return float(history[asked[0], s.H_T]), float(history[asked[-1], s.H_T])


@styled
def draw_time_history(figure: Figure, flight: Flight, title: str = "") -> list[Axes]:
    """Fill a figure with stacked panels of one flight against time; return their axes.

    Shaded: the sticks ask for the departure. Dashed: the first recovery input. Events
    stand along the top.
    """
    history = flight.history
    panels = _panels(history)
    stack = list(figure.subplots(len(panels), 1, sharex=True))
    span = pro_spin_span(history)
    for axes, (label, lines) in zip(stack, panels, strict=True):
        if span is not None:
            axes.axvspan(*span, color=FAINT, alpha=0.16, lw=0)
        axes.axhline(0.0, color=FAINT, lw=0.6)
        for values, name, colour, dash in lines:
            axes.plot(history[:, s.H_T], values, color=colour, ls=dash, lw=1.3, label=name)
        axes.set_ylabel(label)
        axes.grid()
        axes.legend(loc="upper left", bbox_to_anchor=(1.0, 1.0), fontsize=8)
    stack[2].invert_yaxis()
    for axes, unit in ((stack[2], HEIGHT), (stack[3], SPEED)):
        in_units(axes.yaxis, unit, 5)
    _mark_events(stack, events_of(history, flight.summary))
    stack[-1].set_xlabel("time, s")
    if title:
        figure.suptitle(title, fontsize=11, x=0.02, ha="left", weight="bold")
    return stack


def label_rows(events: Sequence[Event], axes: Axes) -> list[int]:
    """Return in which row above the axes each event's name stands, so that none meets another."""
    low, high = axes.get_xlim()
    figure = axes.figure
    assert figure is not None
    wide = AXES_SHARE * figure.get_figwidth() * POINTS_PER_INCH  # type: ignore[union-attr]
    ends: list[float] = []  # of the last name in each row [pt]
    out = []
    for event in events:  # in order of time
        half = 0.5 * LETTER_PT * len(EVENT_NAMES.get(event.name, event.name))
        middle = wide * (event.time_s - low) / (high - low)
        row = next((i for i, end in enumerate(ends) if end < middle - half), len(ends))
        ends[row : row + 1] = [middle + half]
        out.append(row)
    return out


def _mark_events(stack: list[Axes], events: list[Event]) -> None:
    top = stack[0]
    rows = label_rows(events, top)
    for row, event in zip(rows, events, strict=True):
        recovery = event.name == "recovery starts"
        for axes in stack:
            axes.axvline(
                event.time_s, color=INK if recovery else FAINT,
                lw=1.4 if recovery else 0.8, ls="--" if recovery else ":",
            )  # fmt: skip
        top.annotate(
            EVENT_NAMES.get(event.name, event.name), (event.time_s, 1.0),
            xycoords=("data", "axes fraction"), xytext=(0, 3 + ROW_PT * row),
            textcoords="offset points", ha="center", fontsize=8,
        )  # fmt: skip
