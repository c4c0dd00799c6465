"""What going aft buys against what it costs: pitch response and throttle against losses."""

from collections.abc import Sequence
from typing import Literal

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import MaxNLocator, PercentFormatter

from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, ORANGE, SHEET, styled
from sim.show.drawing.scales import in_units
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.chance import quantile_limits
from sim.study.standing.heights import needed_heights, quantile
from sim.study.standing.outcomes import best_recovery, worst_case
from sim.units.quantities import HEIGHT, LENGTH

Gain = Literal["pitch_response", "throttle", "pitch_trim"]
Risk = Literal["lost", "height"]
GAINS: dict[Gain, str] = {
    "pitch_response": "pitch response, full aft stick, °/s²",
    "throttle": "cruise throttle, %",
    "pitch_trim": "pitch surface in cruise, °",
}
RISKS: dict[Risk, str] = {
    "lost": "share lost",
    "height": "entry height needed\nby 95 %, {height}",
}
MARKS = "os^vDP"
COLOURS = (BLUE, ORANGE, MARK, SHEET)
P95 = 0.95
TOP_ROOM = 0.14
# where each pack's labels stand, so that those of neighbouring marks keep apart
ASIDE = ((-6, 5, "right"), (7, -11, "left"), (7, 5, "left"), (-6, -11, "right"))


def gain_of(setup: SetUpResult, gain: Gain) -> float:
    """Return what a set-up gives, in the unit of its label."""
    trim = setup.trim
    if gain == "pitch_response":
        return trim.pitch_response_dps2
    return 100.0 * trim.throttle if gain == "throttle" else trim.tail_deg


def lost_share(setup: SetUpResult, required_share_pct: float) -> tuple[float, float, float]:
    """Return the share lost in the worst manoeuvre by the best recovery, with 95 % limits."""
    case = worst_case(best_recovery(setup, required_share_pct), required_share_pct)
    if case is None:
        return 0.0, 0.0, 1.0
    shares = case.shares
    lost = 1.0 - shares.back / max(shares.flights, 1)
    return lost, 1.0 - shares.back_high, 1.0 - shares.back_low


def highest_case(setup: SetUpResult, required_share_pct: float) -> CaseResult | None:
    """Return the case of the best recovery that needs most height for 95 % of flights."""
    cases = best_recovery(setup, required_share_pct)
    return max(cases, key=lambda c: quantile(needed_heights(c), P95), default=None)


def height_needed(setup: SetUpResult, required_share_pct: float) -> tuple[float, float, float]:
    """Return the entry height 95 % of flights need [m], with 95 % limits; maybe infinite."""
    case = highest_case(setup, required_share_pct)
    if case is None:
        return np.inf, 0.0, np.inf
    values = needed_heights(case)
    return (quantile(values, P95), *quantile_limits(values, P95))


@styled
def draw_gain_risk(
    axes: Axes,
    setups: Sequence[SetUpResult],
    gain: Gain = "pitch_response",
    risk: Risk = "lost",
    required_share_pct: float = 95.0,
) -> None:
    """Draw what set-ups give against what they cost, each with its 95 % limits.

    Parameters
    ----------
    gain : str
        "pitch_response", "throttle" or "pitch_trim", at the cruise speed of the study.
    risk : str
        "lost", the share lost in the worst manoeuvre; or "height", the entry height that
        95 % of flights need in the manoeuvre that needs most. Both by the best recovery.

    Notes
    -----
    A mark is a set-up, with its balance point; set-ups of a pack are joined going
    aft. Marks in the band at the top need more height than was flown.
    """
    flying = [x for x in setups if x.trim.found]
    of = lost_share if risk == "lost" else height_needed
    risks = {x.name: of(x, required_share_pct) for x in flying}
    top = _top([v for values in risks.values() for v in values]) if risk == "height" else 1.0
    for i, pack in enumerate(dict.fromkeys(x.pack for x in flying)):
        of_pack = sorted((x for x in flying if x.pack == pack), key=lambda x: x.balance_aft_mm)
        aside = ASIDE[(i if risk == "lost" else -1 - i) % len(ASIDE)]
        _joined(axes, i, pack, of_pack, gain, [risks[x.name] for x in of_pack], top, aside)
    axes.set_xlabel(GAINS[gain])
    axes.set_ylabel(RISKS[risk].format(height=HEIGHT))
    axes.xaxis.set_major_locator(MaxNLocator(5))
    axes.margins(x=0.24)
    if risk == "lost":
        axes.yaxis.set_major_formatter(PercentFormatter(1.0))
        axes.set_ylim(-0.04, 1.04)
    else:
        axes.axhspan(top, (1.0 + TOP_ROOM) * top, color=FAINT, alpha=0.18, lw=0)
        least = min((v for values in risks.values() for v in values), default=0.0)
        axes.set_ylim(0.8 * least if np.isfinite(least) else 0.0, (1.0 + TOP_ROOM) * top)
        in_units(axes.yaxis, HEIGHT, 6)
        axes.text(0.02, 0.985, "no end known", transform=axes.transAxes, va="top", fontsize=8)
    axes.grid()
    axes.legend(title="pack", loc="upper left", bbox_to_anchor=(1.0, 1.0))


def _top(values: Sequence[float]) -> float:
    return 1.08 * max((v for v in values if np.isfinite(v)), default=100.0)


def _joined(
    axes: Axes,
    number: int,
    pack: str,
    setups: Sequence[SetUpResult],
    gain: Gain,
    found: Sequence[tuple[float, float, float]],
    top: float,
    aside: tuple[int, int, str],
) -> None:
    x = np.array([gain_of(setup, gain) for setup in setups])
    middle, low, high = np.array(found).T
    shown = np.where(np.isfinite(middle), middle, (1.0 + TOP_ROOM / 2.0) * top)
    axes.plot(x, shown, color=FAINT, lw=1.0, zorder=2)
    ends = np.array([shown - np.minimum(low, shown), np.minimum(high, top) - shown])
    axes.errorbar(
        x, shown, yerr=np.clip(ends, 0.0, None), fmt=MARKS[number % len(MARKS)], ms=7, mec=INK,
        mfc=COLOURS[number % len(COLOURS)], ecolor=INK, elinewidth=1.0, capsize=3, label=pack,
        zorder=4,
    )  # fmt: skip
    right, above, side = aside
    for setup, at, up, end in zip(setups, x, shown, high, strict=True):
        if not np.isfinite(end) and up < top:
            axes.plot([at], [top], "^", ms=5, color=MARK, clip_on=False, zorder=5)
        axes.annotate(
            LENGTH.figure(setup.balance_aft_mm), (at, up), xytext=(right, above), ha=side,
            textcoords="offset points", fontsize=8.5, zorder=6,
        )  # fmt: skip
