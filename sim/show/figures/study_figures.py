"""Figures of a study: what came back, height needed, spins."""

from collections.abc import Sequence
from textwrap import fill

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Rectangle
from matplotlib.ticker import MaxNLocator

from sim import tables
from sim.core import script_layout as s
from sim.judge import Outcome, outcome
from sim.show.drawing.canvas import BLUE, FAINT, GREY, INK, MARK, ORANGE, SHEET, WINE, styled
from sim.show.drawing.fitting import wrapped
from sim.show.drawing.scales import in_units
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.heights import needed_heights, quantile
from sim.study.standing.outcomes import best_case, manoeuvres_of
from sim.units.quantities import HEIGHT, LENGTH

SYMBOLS = {Outcome.MET: "●", Outcome.OPEN: "◐", Outcome.NOT_MET: "✕"}
MARKERS = {Outcome.MET: "o", Outcome.OPEN: "D", Outcome.NOT_MET: "X"}
FILLS = {Outcome.MET: BLUE, Outcome.OPEN: ORANGE, Outcome.NOT_MET: WINE}
ON_FILL = {Outcome.MET: "black", Outcome.OPEN: "black", Outcome.NOT_MET: "white"}
PACK_MARKERS = "osD^vP*X"
LABEL_WIDTH = 18
NAME_WIDTH, STRIP_WIDTH = 26, 15  # letters a line of a set-up's name, beside and below a figure
LOW, HIGH = 0.1, 0.9  # the bar of a strip plot


def place_text(setup: SetUpResult) -> str:
    """Return a set-up's name, and below it its balance point and pack."""
    return f"{name_text(setup.name)}\n{LENGTH.ahead(setup.balance_aft_mm)}, {setup.pack}"


def name_text(name: str, width: int = NAME_WIDTH) -> str:
    """Return a set-up's name for a figure, broken behind underscores where it is long."""
    return wrapped(name, width)


@styled
def draw_share_matrix(axes: Axes, setups: Sequence[SetUpResult], required_share_pct: float) -> None:
    """Draw set-ups against manoeuvres: in each cell a symbol, the count and its limits.

    Each set-up stands with its best single recovery. The symbol says whether the share asked
    for is met, not met, or cannot be told from the draws.
    """
    names = manoeuvres_of(setups)
    for i, setup in enumerate(setups):
        for j, name in enumerate(names):
            case = best_case(setup, name, required_share_pct)
            if case is not None:
                _cell(axes, j, i, case, required_share_pct)
    titles = [fill(title, LABEL_WIDTH) for title in names.values()]
    axes.set_xticks(range(len(names)), titles)
    axes.xaxis.tick_top()
    axes.set_yticks(range(len(setups)), [place_text(x) for x in setups])
    axes.tick_params(length=0)
    axes.spines[:].set_visible(False)
    axes.set_xlim(-0.5, len(names) - 0.5)
    axes.set_ylim(len(setups) - 0.5, -0.5)
    legend = "    ".join(f"{SYMBOLS[o]} {o.value}" for o in Outcome)
    axes.set_xlabel(f"{legend}    (asked: {required_share_pct:g} % back, lower 95 % limit)")


def _cell(axes: Axes, x: int, y: int, case: CaseResult, required: float) -> None:
    stands = outcome(case.shares, required)
    box = Rectangle((x - 0.48, y - 0.46), 0.96, 0.92, fc=FILLS[stands], ec=SHEET, lw=1.0)
    axes.add_patch(box)
    low, high = 100.0 * case.shares.back_low, 100.0 * case.shares.back_high
    text = f"{SYMBOLS[stands]} {case.shares.back}/{case.shares.flights}"
    text += f"\n{np.floor(low):.0f}-{high:.0f} %"
    axes.text(x, y, text, ha="center", va="center", color=ON_FILL[stands], fontsize=9.5)


@styled
def draw_height_strips(
    axes: Axes,
    setups: Sequence[SetUpResult],
    manoeuvre: str,
    entry_m: float,
    floor_m: float,
    required_share_pct: float = 95.0,
    ceiling_m: float | None = None,
) -> None:
    """Draw the entry height every flight of a manoeuvre needed, a strip for each set-up.

    Parameters
    ----------
    manoeuvre : str
        Name; it is drawn by each set-up's best single recovery.
    entry_m, floor_m : float
        The entry height, and the floor that the needed height includes [m].
    ceiling_m : float, optional
        The most height that may be used [m], where it was said; left out, the usual legal one.

    Notes
    -----
    A dot is a flight, the bar runs from 10 to 90 %, the line across it is the median.
    Flights that never came back stand in the band at the top.
    """
    cases = [best_case(x, manoeuvre, required_share_pct) for x in setups]
    strips = [np.array([]) if c is None else needed_heights(c) for c in cases]
    finite = np.concatenate([v[np.isfinite(v)] for v in strips] + [np.array([entry_m])])
    top = 1.12 * float(finite.max())
    band = 0.1 * top
    axes.axhspan(top, top + band, color=FAINT, alpha=0.18, lw=0)
    axes.axhline(entry_m, color=MARK, lw=1.4)
    axes.axhline(floor_m, color=FAINT, lw=1.0, ls=":")
    for i, values in enumerate(strips):
        _strip(axes, i, values, top, band)
    names = [
        f"{name_text(x.name, STRIP_WIDTH)}\n{LENGTH.ahead(x.balance_aft_mm)}\n{x.pack}"
        for x in setups
    ]
    axes.set_xticks(range(len(setups)), names, fontsize=8.5)
    axes.set_xlim(-0.5, len(setups) - 0.5)
    axes.set_ylim(0.0, top + band)
    right = axes.secondary_yaxis("right")
    marks = {entry_m: f"{HEIGHT(entry_m)}: entry\nheight", floor_m: "floor"}
    marks[top + 0.5 * band] = "never came back"
    ceiling = tables.card().ceiling_m if ceiling_m is None else ceiling_m
    if entry_m > ceiling:
        whose = "usual\nlegal" if ceiling_m is None else "your\nown"
        marks[ceiling] = f"{HEIGHT(ceiling)}: {whose} ceiling"
        axes.axhline(ceiling, color=MARK, lw=1.2, ls="--")
    right.set_yticks(list(marks), list(marks.values()))
    right.tick_params(length=0)
    axes.set_ylabel(f"entry height needed, {HEIGHT}")
    in_units(axes.yaxis, HEIGHT, 8)
    axes.set_title(manoeuvres_of(setups).get(manoeuvre, manoeuvre))
    axes.grid(axis="y")


def _strip(axes: Axes, i: int, values: np.ndarray, top: float, band: float) -> None:
    if len(values) == 0:
        return
    never = ~np.isfinite(values)
    # a golden-ratio spread instead of chance, so that a figure is the same every time
    aside = i + 0.26 * (2.0 * np.mod(np.arange(len(values)) * 0.6180339887, 1.0) - 1.0)
    axes.plot(aside[~never], values[~never], "o", ms=3, color=BLUE, mec="none", alpha=0.8)
    if never.any():
        axes.plot(aside[never], np.full(never.sum(), top + 0.25 * band), "x", ms=4, color=MARK)
        count = f"{never.sum()} of {len(values)}"
        axes.text(i, top + 0.7 * band, count, ha="center", va="center", fontsize=8)
    low, middle, high = (min(quantile(values, q), top) for q in (LOW, 0.5, HIGH))
    axes.add_patch(Rectangle((i - 0.09, low), 0.18, high - low, fc="none", ec=INK, lw=1.2))
    axes.plot([i - 0.2, i + 0.2], [middle, middle], color=INK, lw=2.2)


@styled
def draw_spin_overview(axes: Axes, setups: Sequence[SetUpResult]) -> None:
    """Draw angle of attack against turn rate of every flight that spun, a mark per set-up.

    Deep stalls turn too slowly to be spins and are not drawn.
    """
    drawn = False
    for i, setup in enumerate(setups):
        first: dict[str, CaseResult] = {}
        for case in setup.cases:
            first.setdefault(case.manoeuvre, case)
        rows = [case.rows[case.rows[:, s.R_SPUN] > 0.0] for case in first.values()]
        spun = np.concatenate(rows) if rows else np.zeros((0, s.N_SUMMARY))
        if len(spun) == 0:
            continue
        drawn = True
        axes.plot(
            np.degrees(spun[:, s.R_SPIN_ALPHA]), np.degrees(np.abs(spun[:, s.R_SPIN_YAW])),
            PACK_MARKERS[i % len(PACK_MARKERS)], ms=5, mec=INK, mew=0.3, alpha=0.75,
            color=(BLUE, ORANGE, MARK, GREY)[i % 4], label=name_text(setup.name),
        )  # fmt: skip
    axes.set_xlabel("angle of attack in the spin, degrees (below 0: inverted)")
    axes.set_ylabel("turn about the vertical, degrees/s")
    axes.yaxis.set_major_locator(MaxNLocator(6))
    axes.grid()
    if drawn:
        axes.legend(loc="upper left", bbox_to_anchor=(1.0, 1.0))
    else:
        axes.text(0.5, 0.5, "no set-up spun", transform=axes.transAxes, ha="center")
