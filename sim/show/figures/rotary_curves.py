"""The rotary-balance view: coefficients in steady rotation about the direction of flight."""

from collections.abc import Callable, Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sim import tables
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled
from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, ORANGE, new_figure, styled
from sim.spin.rotary import Rotary, rotary
from sim.units.quantities import LENGTH

ALPHAS_DEG = (15.0, 20.0, 30.0, 45.0, 60.0, 80.0)
LOOKS = (
    (BLUE, "-"),
    (ORANGE, "-"),
    (MARK, "-"),
    (INK, "-"),
    (INK, "--"),
    (INK, "-."),
)
RATE = "rate of rotation, omega b / 2 V (right +)"


@styled
def draw_rotary_curves(
    axes: Axes, found: Sequence[Rotary], what: Callable[[Rotary], Floats], title: str
) -> None:
    """Draw one coefficient against rate of rotation, a line for each angle of attack."""
    for i, one in enumerate(found):
        colour, dash = LOOKS[i % len(LOOKS)]
        axes.plot(one.rates, what(one), color=colour, ls=dash, lw=1.4,
                  label=f"{one.alpha_deg:.0f} deg")  # fmt: skip
    axes.axhline(0.0, color=FAINT, lw=0.8)
    axes.axvline(0.0, color=FAINT, lw=0.8)
    axes.set_xlim(found[0].rates[0], found[0].rates[-1])
    axes.set_xlabel(RATE)
    axes.set_title(title, fontsize=10)
    axes.grid(True)


def _pitch_needed(axes: Axes, found: Sequence[Rotary]) -> None:
    """Draw what the masses need, thin, and keep the axes to what the air gives."""
    ends = axes.get_ylim()
    for i, one in enumerate(found):
        colour, _ = LOOKS[i % len(LOOKS)]
        axes.plot(one.rates, one.pitch_needed, color=colour, ls=(0, (1, 2)), lw=1.0)
    axes.set_ylim(ends)


def _no_spin(axes: Axes, rates: Floats) -> None:
    """Mark the moment against the rotation that ruled out a steady spin, each way round."""
    least = tables.judge().no_spin_yaw
    for end in (rates[0], rates[-1]):
        level = least if end > 0.0 else -least
        axes.plot([0.0, end], [level, level], color=FAINT, lw=1.2, ls=(0, (4, 3)))
    axes.annotate(
        "that much against it left no steady spin\nin balance tests of Clark Y wings",
        (0.0, least), xytext=(-6, 0), textcoords="offset points", ha="right", va="center",
        fontsize=8, color=INK,
    )  # fmt: skip


@styled
def rotary_page(
    assembled: Assembled,
    beta_deg: float = 0.0,
    sticks: tuple[float, float, float, float] = (1.0, 0.0, 0.0, 0.0),
) -> Figure:
    """Return a page of coefficients against rate of rotation at several angles of attack.

    Parameters
    ----------
    beta_deg : float
    sticks : tuple
        Elevator, aileron, rudder, throttle; full aft stick unless told otherwise.
    """
    found = [rotary(assembled, alpha, beta_deg, sticks=sticks) for alpha in ALPHAS_DEG]
    figure = new_figure(12.0, 14.5)
    stack = figure.subplots(4, 2)
    for whole, part in stack[:2]:
        part.sharey(whole)
    drawn: tuple[tuple[Callable[[Rotary], Floats], str], ...] = (
        (lambda x: x.whole.about_path, "Cl about the path: drives where it has the rate's sign"),
        (lambda x: x.wing.about_path, "the same, wings alone"),
        (lambda x: x.whole.yaw, "yawing moment Cn about the body's axis"),
        (lambda x: x.rest.yaw, "the same, tail and fuselage alone"),
        (lambda x: x.whole.roll, "rolling moment Cl about the body's axis"),
        (lambda x: x.whole.pitch, "pitching moment Cm; fine dots: at which the masses balance"),
        (lambda x: x.whole.side, "side force CY"),
        (lambda x: x.whole.normal, "normal force CN"),
    )
    for axes, (what, title) in zip(stack.flat, drawn, strict=True):
        draw_rotary_curves(axes, found, what, title)
    _no_spin(stack[1, 1], found[0].rates)
    _pitch_needed(stack[2, 1], found)
    figure.legend(
        *stack[0, 0].get_legend_handles_labels(), title="angle of attack",
        loc="outside lower center", ncols=len(found),
    )  # fmt: skip
    figure.suptitle(
        f"{assembled.aeroplane.title}, set-up {assembled.setup.name}, balance point "
        f"{LENGTH(assembled.weighed.balance_aft_mm)}: turning about the direction of flight\n"
        f"sideslip {beta_deg:g} degrees, {_sticks_text(sticks)}; moments about the balance point",
        x=0.01, ha="left", weight="bold",
    )  # fmt: skip
    return figure


def _sticks_text(sticks: tuple[float, float, float, float]) -> str:
    elevator, aileron, rudder, throttle = (100.0 * x for x in sticks)
    return (
        f"elevator stick {elevator:+.0f} % (aft +), ailerons {aileron:+.0f} %, "
        f"rudder {rudder:+.0f} %, throttle {throttle:.0f} %"
    )
