"""Balance point against the share that came back, by pack, with its confidence band."""

from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import PercentFormatter

from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, SHEET, styled
from sim.show.drawing.fitting import wrapped
from sim.show.figures.study_figures import FILLS, MARKERS
from sim.show.words.places.limits import interval_text
from sim.study.results.aft_limit import AftLimit
from sim.study.results.set_up import SetUpResult
from sim.study.standing.outcomes import best_recovery, setup_outcome, worst_case
from sim.units.quantities import LENGTH

TITLE_WIDTH = 60  # letters a line of a panel's title; a longer one runs off the picture


@styled
def draw_share_by_balance(
    axes: Axes,
    pack: str | None,
    setups: Sequence[SetUpResult],
    limit: AftLimit | None,
    required_share_pct: float,
    who: str = "",
) -> None:
    """Draw the share that came back against balance point for one pack, with 95 % limits.

    Parameters
    ----------
    pack : str, optional
        None draws all the set-ups, each with the name of its pack.
    setups : sequence of SetUpResult
        Those of the pack stand with the symbol of their verdict, at the share of their
        worst manoeuvre by their best single recovery.
    limit : AftLimit, optional
        The pack's search, by its best recovery: line and band; a plus sign: a first look
        with fewer draws. A point given up early, or not flown in all manoeuvres, has no share
        and stands as a stroke on the lower edge.
    who : str
        Said after the pack where limits of several combinations stand side by side.

    Notes
    -----
    The scale of the share is stretched towards 100 %, by the square root of what is lost.
    """
    if limit is not None:
        _search(axes, limit)
    for x in (x for x in setups if pack in (None, x.pack)):
        _setup(axes, x, required_share_pct, x.pack if pack is None else "")
    need = required_share_pct / 100.0
    axes.axhline(need, color=INK, lw=1.0, ls=":")
    axes.text(1.005, need, f"{required_share_pct:g} %\nasked", transform=axes.get_yaxis_transform(),
              va="center", fontsize=8.5)  # fmt: skip
    axes.set_yscale("function", functions=(_stretched, _back))
    axes.set_ylim(0.0, 1.004)
    axes.set_yticks([0.0, 0.5, 0.75, 0.9, 1.0])
    axes.margins(x=0.1)
    axes.yaxis.set_major_formatter(PercentFormatter(1.0))
    axes.set_ylabel("came back")
    title = "set-ups, by pack" if pack is None else f"pack {pack}{who}{_limit_words(limit)}"
    axes.set_title(wrapped(title, TITLE_WIDTH), fontsize=10)
    axes.grid()


def _stretched(share: np.ndarray) -> np.ndarray:
    """Return a scale on which a share (n,) near 1 has the most room."""
    rest = 1.0 - np.asarray(share)
    return np.asarray(1.0 - np.sign(rest) * np.sqrt(np.abs(rest)))


def _back(value: np.ndarray) -> np.ndarray:
    rest = 1.0 - np.asarray(value)
    return np.asarray(1.0 - np.sign(rest) * rest**2)


def _limit_words(limit: AftLimit | None) -> str:
    if limit is None:
        return ""
    if limit.aft_mm is None:
        return ": no aft limit found"
    beyond = "beyond " if limit.at_end else ""
    ends = interval_text(limit.low_mm, limit.high_mm)
    return f": aft limit {beyond}{LENGTH.at_most(limit.aft_mm)} {LENGTH}, {ends}"


def _search(axes: Axes, limit: AftLimit) -> None:
    tried = sorted(limit.steps, key=lambda step: step.balance_aft_mm)
    steps = [step for step in tried if step.recovery == limit.recovery]
    full = max((step.draws for step in steps), default=0)
    whole = [step for step in steps if step.complete and step.draws == full]
    looks = [step for step in steps if step.complete and step.draws < full]
    axes.plot([x.balance_aft_mm for x in looks], [x.back / x.draws for x in looks], "+", ms=6,
              color=INK)  # fmt: skip
    if whole:
        places = [step.balance_aft_mm for step in whole]
        axes.fill_between(
            places, [x.low for x in whole], [x.high for x in whole], color=BLUE, alpha=0.4, lw=0,
            label="search, with 95 % limits",
        )  # fmt: skip
        axes.plot(places, [x.back / x.draws for x in whole], color=INK, lw=1.2, marker="o", ms=4,
                  mfc=SHEET, mec=INK)  # fmt: skip
    open_at = [step.balance_aft_mm for step in steps if not step.complete]
    (strokes,) = axes.plot(open_at, [0.0] * len(open_at), "|", ms=9, mew=1.2, color=INK,
                           clip_on=False)  # fmt: skip
    strokes.set_in_layout(False)
    if limit.aft_mm is not None:
        axes.axvline(limit.aft_mm, color=MARK, lw=1.6, ls="-", zorder=1)
        low = limit.aft_mm if limit.low_mm is None else limit.low_mm
        high = limit.aft_mm if limit.high_mm is None else limit.high_mm
        axes.axvspan(low, high, color=MARK, alpha=0.15, lw=0, zorder=0)
    if limit.neutral_mm is not None:
        axes.axvline(limit.neutral_mm, color=FAINT, lw=1.2, ls=":", zorder=1)
        axes.annotate(
            "neutral", (limit.neutral_mm, 0.0), xycoords=("data", "axes fraction"),
            xytext=(3, 4), textcoords="offset points", fontsize=8,
        )  # fmt: skip


def _setup(axes: Axes, setup: SetUpResult, required: float, label: str) -> None:
    case = worst_case(best_recovery(setup, required), required)
    if case is None:
        return
    stands, shares = setup_outcome(setup, required), case.shares
    share = shares.back / max(shares.flights, 1)
    ends = np.clip([[share - shares.back_low], [shares.back_high - share]], 0.0, None)
    axes.errorbar(
        [setup.balance_aft_mm], [share], yerr=ends, fmt=MARKERS[stands], ms=8, mfc=FILLS[stands],
        mec=INK, ecolor=INK, elinewidth=1.2, capsize=4, zorder=5,
    )  # fmt: skip
    axes.annotate(
        label, (setup.balance_aft_mm, share), xytext=(7, -3), textcoords="offset points",
        fontsize=8.5,
    )  # fmt: skip
