"""One flight over time: angles, rates, height and sink, sticks."""

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


def _mark_events(stack: list[Axes], events: list[Event]) -> None:
    top = stack[0]
    for i, event in enumerate(events):
        recovery = event.name == "recovery starts"
        for axes in stack:
            axes.axvline(
                event.time_s, color=INK if recovery else FAINT,
                lw=1.4 if recovery else 0.8, ls="--" if recovery else ":",
            )  # fmt: skip
        top.annotate(
            EVENT_NAMES.get(event.name, event.name), (event.time_s, 1.0),
            xycoords=("data", "axes fraction"), xytext=(0, 3 + 10 * (i % 2)),
            textcoords="offset points", ha="center", fontsize=8,
        )  # fmt: skip
