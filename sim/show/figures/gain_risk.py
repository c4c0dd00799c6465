"""What set-ups give against what they risk, each with its uncertainty, best compromises marked."""

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator, PercentFormatter

from sim.show.drawing.canvas import (
    BLUE,
    FAINT,
    INK,
    MARK,
    ORANGE,
    SHEET,
    grid_of_axes,
    lay_out,
    new_figure,
    styled,
)
from sim.show.drawing.scales import in_units
from sim.show.drawing.spread_labels import spread_labels
from sim.show.words.findings.agility import UNITS, gain_text
from sim.show.words.phrases import spoken
from sim.study.results.set_up import SetUpResult
from sim.study.standing.trade import (
    NOMINAL,
    RISKS,
    Risk,
    best_compromises,
    gain_of,
    gives,
    less_is_better,
    risk_of,
    shown,
)
from sim.units.quantities import HEIGHT, LENGTH

GAINS = {
    "pitch_response": "pitch-up, full aft stick, °/s², nominal",
    "throttle": "cruise throttle, %, nominal",
    "pitch_trim": "pitch surface in cruise, °, nominal",
}
RISK_LABELS: dict[Risk, str] = {
    "lost": "share lost",
    "height": "entry height needed\nby 95 %, {height}",
}
MARKS = "os^vDP"
COLOURS = (BLUE, ORANGE, MARK, SHEET)
ROOM = 0.14  # of an axis, for what has no end


def draw_gains_and_risks(
    setups: Sequence[SetUpResult], gains: Sequence[str], required_share_pct: float
) -> Figure:
    """Return a picture of some gains against both risks: a row a gain."""
    figure = new_figure(6.2, 0.5 + 2.5 * len(gains))
    grid = grid_of_axes(figure, len(gains), len(RISKS))
    panels = [
        (axes, gain, risk)
        for row, gain in zip(grid, gains, strict=True)
        for axes, risk in zip(row, RISKS, strict=True)
    ]
    for axes, gain, risk in panels:
        _points(axes, setups, gain, risk, required_share_pct)
    handles, names = grid[0][0].get_legend_handles_labels()
    figure.legend(
        handles, names, title="pack", loc="outside lower center", ncols=4, frameon=False,
    )  # fmt: skip
    lay_out(figure)
    figure.set_layout_engine("none")  # places are final before labels look for room
    for axes, gain, risk in panels:
        _labels(axes, setups, gain, risk, required_share_pct)
    return figure


@styled
def draw_gain_risk(
    axes: Axes,
    setups: Sequence[SetUpResult],
    gain: str = "pitch_response",
    risk: Risk = "lost",
    required_share_pct: float = 95.0,
) -> None:
    """Draw what set-ups give against what they risk, and which are the best compromises.

    Parameters
    ----------
    gain : str
        A manoeuvre of the study's agility; or "pitch_response", "throttle" or "pitch_trim" at
        its cruise speed, which are nominal.
    risk : str
        "lost", the share lost in the worst manoeuvre; or "height", the entry height that
        95 % of flights need in the manoeuvre that needs most. Both by the best recovery.

    Notes
    -----
    A mark is a set-up, with its balance point. Bars: 10 to 90 % of draws across, 95 %
    limits upwards. A ring: no other set-up gives as much for less risk, by middle values, and the
    line joins those. What is better lies to the right and below. Marks in the band at the top
    need more height than was flown; in the band at the left there is no gain.
    """
    _points(axes, setups, gain, risk, required_share_pct)
    axes.legend(title="pack", loc="upper left", bbox_to_anchor=(1.0, 1.0))
    axes.figure.draw_without_rendering()  # type: ignore[union-attr]
    _labels(axes, setups, gain, risk, required_share_pct)


class _Scale:
    """Where values stand on an axis with a band for what has no end, or is not there."""

    def __init__(self, values: Sequence[float], least_room: float) -> None:
        known = [v for v in values if np.isfinite(v)]
        self.known = bool(known)
        self.low, self.high = min(known, default=0.0), max(known, default=1.0)
        room = max(self.high - self.low, least_room)
        self.low, self.high = self.low - 0.12 * room, self.high + 0.12 * room
        self.band = ROOM * (self.high - self.low)


def _flying(setups: Sequence[SetUpResult], gain: str) -> list[SetUpResult]:
    return [x for x in setups if x.trim.found and (gain in NOMINAL or shown(x, gain) is not None)]


def _places(
    setups: Sequence[SetUpResult], gain: str, risk: Risk, required: float
) -> tuple[np.ndarray, np.ndarray, _Scale, _Scale]:
    """Return gains and risks (n, 3) of set-ups, middle, low and high, and the scales of both."""
    gains = [gain_of(x, gain) for x in setups]
    risks = [risk_of(x, risk, required) for x in setups]
    across = np.array(
        [
            (g.median, g.low, g.high) if gain in NOMINAL or gives(g.median) else (np.inf,) * 3
            for g in gains
        ]
    ).reshape(-1, 3)
    upwards = np.array([(r.median, r.low, r.high) for r in risks]).reshape(-1, 3)
    seen = [v for row in across for v in row if gain in NOMINAL or gives(v)]
    scale = _Scale(seen, 0.05 * max((abs(v) for v in seen), default=1.0))
    # where no middle is known, a lower limit alone makes no scale
    risky = upwards[np.isfinite(upwards[:, 0])] if risk == "height" else upwards
    return across, upwards, scale, _Scale(risky.ravel().tolist(), 1.0)


def _middles(
    across: np.ndarray, upwards: np.ndarray, x: _Scale, y: _Scale, less: bool, risk: Risk
) -> tuple[np.ndarray, np.ndarray]:
    """Return where marks stand (n,), those without gain or end in the middle of their band."""
    none = x.high + 0.5 * x.band if less else x.low - 0.5 * x.band
    top = y.high + 0.5 * y.band if risk == "height" else 1.0
    return (
        np.where(np.isfinite(across[:, 0]), across[:, 0], none),
        np.where(np.isfinite(upwards[:, 0]), upwards[:, 0], top),
    )


@styled
def _points(
    axes: Axes, setups: Sequence[SetUpResult], gain: str, risk: Risk, required: float
) -> None:
    """Draw marks, bars and the front, without labels."""
    flying = _flying(setups, gain)
    less = less_is_better(flying, gain)
    across, upwards, x, y = _places(flying, gain, risk, required)
    at, up = _middles(across, upwards, x, y, less, risk)
    best = best_compromises(flying, gain, risk, required)
    front = sorted((at[i], up[i]) for i, one in enumerate(flying) if one.name in best)
    if len(front) > 1:
        axes.plot(*zip(*front, strict=True), color=MARK, lw=1.2, ls=":", zorder=2)
    packs = list(dict.fromkeys(one.pack for one in flying))
    for i, one in enumerate(flying):
        pack = packs.index(one.pack)
        first = next(k for k, other in enumerate(flying) if other.pack == one.pack) == i
        axes.errorbar(
            at[i], up[i], xerr=_bar(across[i], at[i], x.low, x.high),
            yerr=_bar(upwards[i], up[i], y.low, y.high), fmt=MARKS[pack % len(MARKS)], ms=6,
            mec=INK, mfc=COLOURS[pack % len(COLOURS)], ecolor=FAINT, elinewidth=0.9, capsize=2,
            label=one.pack if first else None, zorder=4,
        )  # fmt: skip
        if one.name in best:
            axes.plot(at[i], up[i], "o", ms=12, mfc="none", mec=MARK, mew=1.4, zorder=5)
        if not np.isfinite(upwards[i, 2]) and np.isfinite(upwards[i, 0]):
            axes.plot(at[i], y.high, "^", ms=5, color=MARK, zorder=5)
    _frame(axes, gain, risk, (x, y), less, bool(np.isfinite(across[:, 0]).all()))
    kind = next((z.shows for one in flying if (z := shown(one, gain)) is not None), "")
    axes.set_xlabel(GAINS.get(gain) or f"{spoken(gain)}: {gain_text(kind)}")
    if kind in UNITS:
        in_units(axes.xaxis, UNITS[kind], 5)
    if risk == "height" and y.known:
        in_units(axes.yaxis, HEIGHT, 6)
    elif risk == "height":
        axes.set_yticks([])


def _bar(ends: np.ndarray, at: float, low: float, high: float) -> np.ndarray | None:
    """Return the two lengths (2, 1) of a bar, cut at the ends of the scale."""
    if not np.isfinite(ends[0]):
        return None
    cut = np.clip(np.nan_to_num(ends[1:], nan=at, posinf=high), low, high)
    return np.maximum(np.array([[at - cut[0]], [cut[1] - at]]), 0.0)


def _frame(
    axes: Axes, gain: str, risk: Risk, scales: tuple[_Scale, _Scale], less: bool, all_give: bool
) -> None:
    """Set the axes' ends, the bands of what has no end, and names."""
    x, y = scales
    left, right = x.low, x.high
    if not all_give:
        left, right = (left, right + x.band) if less else (left - x.band, right)
        ends = (x.high, right) if less else (left, x.low)
        axes.axvspan(*ends, color=FAINT, alpha=0.18, lw=0)
        place, side = (0.985, "top") if risk == "lost" else (0.02, "bottom")
        axes.text(0.01, place, "none", transform=axes.transAxes, fontsize=8, va=side)
    axes.set_xlim(*((right, left) if less else (left, right)))
    if risk == "lost":
        axes.yaxis.set_major_formatter(PercentFormatter(1.0))
        most = min(1.0, max(y.high, 0.2))  # of the upper limits
        axes.set_ylim(-0.06 * most, 1.06 * most)
    else:
        axes.axhspan(y.high, y.high + y.band, color=FAINT, alpha=0.18, lw=0)
        axes.set_ylim(y.low, y.high + y.band)
        said = "grey: no end known" if y.known else "no end known of any"
        axes.annotate(
            said, (0.01, 1.0), (0.0, 2.0), xycoords="axes fraction", textcoords="offset points",
            va="bottom", fontsize=8,
        )  # fmt: skip
    axes.set_ylabel(RISK_LABELS[risk].format(height=HEIGHT))
    axes.xaxis.set_major_locator(MaxNLocator(5))
    axes.grid()


@styled
def _labels(
    axes: Axes, setups: Sequence[SetUpResult], gain: str, risk: Risk, required: float
) -> None:
    """Write the balance point of each set-up beside its mark, where no other text or mark is."""
    flying = _flying(setups, gain)
    across, upwards, x, y = _places(flying, gain, risk, required)
    at, up = _middles(across, upwards, x, y, less_is_better(flying, gain), risk)
    places = list(zip(at.tolist(), up.tolist(), strict=True))
    spread_labels(axes, places, [LENGTH.at_most(one.balance_aft_mm) for one in flying], places)
