"""The departure plane: the two departure criteria against each other along alpha."""

from collections.abc import Mapping

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sim.pack.assemble import Assembled
from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, ORANGE, SHEET, one_axes, styled
from sim.show.figures.study_figures import name_text
from sim.trim.criteria import Criteria, criteria

COLOURS = (BLUE, ORANGE, MARK, INK)
MARKERS = "osD^"
ALPHAS_DEG = np.arange(0.0, 60.25, 0.5)
EVERY_DEG = 5.0  # angle of attack between two marks
SPARSE_DEG = 30.0  # between two numbers of the set-ups after the first
ROOM = 1.25  # the plane reaches this much further than the bulk of the points
BULK = 85.0  # percentile
KEY = (
    "A mark every 5 degrees of angle of attack; thin line: before the stall; arrow: beyond the "
    "edge;\nhollow: ailerons alone roll the wrong way there, and LCDP's side means the opposite."
)
CORNERS = (
    (0.985, 0.985, "right", "top", "resists departure"),
    (0.015, 0.985, "left", "top", "ailerons roll it\nthe wrong way"),
    (0.985, 0.015, "right", "bottom", "nose swings away"),
    (0.015, 0.015, "left", "bottom", "nose swings away and ailerons\nroll it the wrong way"),
)


@styled
def draw_departure_plane(
    axes: Axes, lines: Mapping[str, Criteria], stalls_deg: Mapping[str, float]
) -> None:
    """Draw Cn_beta,dyn against LCDP along the angle of attack, a line for each set-up.

    Parameters
    ----------
    lines : mapping of name to Criteria
        At evenly spaced angles; those at multiples of 5 degrees are marked.
    stalls_deg : mapping of name to float
        Where each stalls; the stretch below is drawn thin.

    Notes
    -----
    LCDP has no bound where ailerons lose their own power to roll: such points stand at the
    edge, as arrows. Marks are hollow where ailerons roll the wrong way already without
    sideslip, and LCDP then tells the opposite of what its side says.
    """
    reach, low, high = _extent(lines)
    for i, (name, one) in enumerate(lines.items()):
        _path(axes, i, name, one, stalls_deg[name], reach)
    axes.axhline(0.0, color=INK, lw=0.9)
    axes.axvline(0.0, color=INK, lw=0.9)
    axes.set_xlim(-reach, reach)
    axes.set_ylim(low, high)
    for x, y, ha, va, text in CORNERS:
        axes.text(x, y, text, ha=ha, va=va, transform=axes.transAxes, color=FAINT, fontsize=9)
    axes.set_xlabel(f"LCDP per degree: yaw left over when ailerons are used\n\n{KEY}")
    axes.set_ylabel("Cn_beta,dyn per degree: how the nose follows the air")
    axes.grid(True)
    axes.legend(loc="upper left", bbox_to_anchor=(1.0, 1.0), title="set-up")


@styled
def departure_page(assembled: Assembled) -> Figure:
    """Return a figure with the departure plane of one set-up."""
    figure, axes = one_axes(9.0, 6.5)
    name = assembled.setup.name
    lines = criteria(assembled, ALPHAS_DEG, assembled.stall.speed_mps)
    draw_departure_plane(axes, {name: lines}, {name: float(np.degrees(assembled.stall.alpha))})
    axes.set_title(f"{assembled.aeroplane.title}, set-up {name}")
    return figure


def _extent(lines: Mapping[str, Criteria]) -> tuple[float, float, float]:
    """Return half the width, and bottom and top of the plane; noughts stay in view."""
    aileron = np.concatenate([x.aileron[np.isfinite(x.aileron)] for x in lines.values()])
    dynamic = np.concatenate([x.dynamic for x in lines.values()])
    reach = ROOM * max(float(np.percentile(np.abs(aileron), BULK)) if aileron.size else 0.0, 1e-3)
    least = 0.15 * max(float(np.abs(dynamic).max()), 1e-3)
    return reach, ROOM * min(float(dynamic.min()), -least), ROOM * max(float(dynamic.max()), least)


def _path(axes: Axes, i: int, name: str, one: Criteria, stall_deg: float, reach: float) -> None:
    colour, marker = COLOURS[i % len(COLOURS)], MARKERS[i % len(MARKERS)]
    inside = np.where(np.abs(one.aileron) <= reach, one.aileron, np.nan)
    # LCDP runs through infinity where ailerons change the way they roll: no line across it
    turns = 1 + np.flatnonzero(np.diff(np.sign(one.roll_power)))
    for run in np.split(np.arange(one.alphas_deg.size), turns):
        for part, width in ((one.alphas_deg <= stall_deg, 0.8), (one.alphas_deg >= stall_deg, 1.8)):
            kept = run[part[run]]
            axes.plot(inside[kept], one.dynamic[kept], color=colour, lw=width)
    axes.plot([], [], color=colour, marker=marker, mec=INK, mew=0.5, ms=5, label=name_text(name))
    marked = np.flatnonzero(np.isclose(np.mod(one.alphas_deg + 1e-6, EVERY_DEG), 0.0, atol=1e-3))
    for j in marked:
        x, y = one.aileron[j], one.dynamic[j]
        if not np.isfinite(x):
            continue
        hollow = one.roll_power[j] < 0.0
        shown = marker if abs(x) <= reach else (">" if x > 0.0 else "<")
        x = float(np.clip(x, -0.985 * reach, 0.985 * reach))
        axes.plot(x, y, shown, ms=5, mfc=SHEET if hollow else colour, mec=INK, mew=0.6, zorder=3)
        if i > 0 and one.alphas_deg[j] % SPARSE_DEG > 0.1:
            continue  # the first set-up's numbers do for its neighbours
        axes.annotate(
            f"{one.alphas_deg[j]:.0f}", (x, y), xytext=(4, 4), textcoords="offset points",
            fontsize=7, color=INK,
        )  # fmt: skip
