"""Coefficient curves over the whole circle of angle of attack, for three tail positions."""

from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sim.core.steady.statics import polar
from sim.pack.assemble import Assembled
from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, new_figure, styled
from sim.units.quantities import LENGTH

SPEED = 15.0  # m/s; coefficients hardly depend on it
SIDESLIP_DEG = 5.0  # slopes are taken over plus and minus this
STICKS = (
    (1.0, "full aft", MARK, "-"),
    (0.0, "neutral", INK, "--"),
    (-1.0, "full forward", BLUE, "-."),
)
CLOSE_UP_DEG = (-10.0, 90.0)
ALPHAS_DEG = np.arange(-180.0, 180.5, 2.5)


@dataclass(frozen=True)
class Curves:
    """Coefficients (n,) against angle of attack [deg] with the elevator stick held.

    Lift and drag along the stream, moments about the balance point in body axes on span
    or mean chord; ``yaw_slope`` and ``roll_slope`` per degree of sideslip.
    """

    alphas_deg: np.ndarray
    lift: np.ndarray
    drag: np.ndarray
    pitch: np.ndarray
    yaw_slope: np.ndarray
    roll_slope: np.ndarray


def curves(assembled: Assembled, elevator: float, alphas_deg: np.ndarray = ALPHAS_DEG) -> Curves:
    """Return the coefficients at an elevator stick, throttle closed, other sticks centred."""
    ref = assembled.weighed.reference
    push = 0.5 * assembled.density * SPEED**2 * ref.area_m2
    alphas = np.radians(alphas_deg)
    n = alphas.size
    rates, sticks = np.zeros((n, 3)), np.zeros((n, 4))
    sticks[:, 0] = elevator
    straight, left, right = (
        polar(assembled.model, SPEED, alphas, np.full(n, np.radians(b)), rates, sticks) / push
        for b in (0.0, -SIDESLIP_DEG, SIDESLIP_DEG)
    )
    slopes = (right - left) / (2.0 * SIDESLIP_DEG * ref.span_m)
    return Curves(
        alphas_deg=alphas_deg,
        lift=straight[:, 0] * np.sin(alphas) - straight[:, 2] * np.cos(alphas),
        drag=-straight[:, 0] * np.cos(alphas) - straight[:, 2] * np.sin(alphas),
        pitch=straight[:, 4] / ref.mean_chord_m,
        yaw_slope=slopes[:, 5],
        roll_slope=slopes[:, 3],
    )


@styled
def coefficient_page(assembled: Assembled) -> Figure:
    """Return a page of CL, CD, Cm, and Cn and Cl due to sideslip, against angle of attack."""
    figure = new_figure(13.0, 9.5)
    stack = figure.subplots(3, 2)
    drawn = (
        (stack[0, 0], "lift", "lift coefficient CL"),
        (stack[0, 1], "drag", "drag coefficient CD"),
        (stack[1, 0], "pitch", "pitching moment Cm about the balance point (nose up +)"),
        (stack[1, 1], "pitch", "pitching moment Cm, close up"),
        (stack[2, 0], "yaw_slope", "yaw due to sideslip, Cn per degree (above 0: nose follows)"),
        (
            stack[2, 1],
            "roll_slope",
            "roll due to sideslip, Cl per degree (below 0: rolls out of the slip)",
        ),
    )
    pitch: list[np.ndarray] = []
    for stick, name, colour, dash in STICKS:
        of_stick = curves(assembled, stick)
        pitch.append(of_stick.pitch)
        for axes, field, _ in drawn:
            axes.plot(
                of_stick.alphas_deg, getattr(of_stick, field), color=colour, ls=dash, lw=1.3,
                label=f"stick {name}",
            )  # fmt: skip
    stall = np.degrees(assembled.stall.alpha)
    for axes, _, title in drawn:
        _frame(axes, title, stall)
    _close_up(stack[1, 1], pitch)
    stack[1, 1].legend(loc="upper right")
    weighed = assembled.weighed
    figure.suptitle(
        f"{assembled.aeroplane.title}, set-up {assembled.setup.name}, balance point "
        f"{LENGTH(weighed.balance_aft_mm)}: coefficients, throttle closed; thin line: stall",
        x=0.01, ha="left", weight="bold",
    )  # fmt: skip
    return figure


def _frame(axes: Axes, title: str, stall_deg: float) -> None:
    axes.set_title(title, fontsize=10)
    axes.axhline(0.0, color=FAINT, lw=0.8)
    axes.axvline(stall_deg, color=FAINT, lw=0.8)
    axes.set_xlim(-180.0, 180.0)
    axes.set_xticks(np.arange(-180, 181, 30))
    axes.set_xlabel("angle of attack, degrees")
    axes.grid(True)


def _close_up(axes: Axes, pitch: list[np.ndarray]) -> None:
    """Narrow the axes to the angles that are flown; ``pitch`` holds the curves drawn there."""
    low, high = CLOSE_UP_DEG
    seen = np.array(pitch)[:, (low <= ALPHAS_DEG) & (high >= ALPHAS_DEG)]
    pad = 0.05 * (seen.max() - seen.min())
    axes.set_xlim(low, high)
    axes.set_xticks(np.arange(low, high + 1.0, 10.0))
    axes.set_ylim(seen.min() - pad, seen.max() + pad)
