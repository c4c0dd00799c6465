"""Side view of the aeroplane with pack, balance point, neutral point and band, in mm."""

from collections.abc import Sequence
from typing import Any

from matplotlib.axes import Axes
from matplotlib.patches import Circle, Rectangle, Wedge

from sim.describe import Aeroplane
from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, ORANGE, SHEET, styled
from sim.show.drawing.scales import in_units
from sim.show.figures.aeroplane import draw_aeroplane
from sim.study.results.aft_limit import AftLimit
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import front_of, own_limit
from sim.units.quantities import LENGTH
from sim.units.ranges import range_words
from sim.weigh.reference import reference

LABEL_SHARE = 0.07  # room for one line of label, as a share of the length drawn


def draw_balance_symbol(axes: Axes, aft: float, up: float, radius: float) -> None:
    """Draw the quartered disc of a balance point."""
    axes.add_patch(Circle((aft, up), radius, fc=SHEET, ec=INK, lw=1.0, zorder=6))
    for start in (0, 180):
        axes.add_patch(Wedge((aft, up), radius, start, start + 90, fc=INK, ec="none", zorder=7))


def draw_neutral_symbol(axes: Axes, aft: float, up: float, size: float = 8.0) -> None:
    """Draw the open diamond of a neutral point."""
    axes.plot([aft], [up], "D", ms=size, mfc="none", mec=MARK, mew=1.6, zorder=8)


def draw_pack(axes: Axes, aeroplane: Aeroplane, pack: str, aft_mm: float, **look: Any) -> None:
    """Draw a pack as a box on its tray, in the side view."""
    size, tray = aeroplane.packs[pack], aeroplane.tray
    corner = (aft_mm - size.length_mm / 2.0, tray.up_mm - size.height_mm / 2.0)
    axes.add_patch(Rectangle(corner, size.length_mm, size.height_mm, **look))


def band_ends(limit: AftLimit | None) -> tuple[float, float] | None:
    """Return from where to where [mm aft] the requirement was met; None: nowhere."""
    if limit is None or limit.aft_mm is None:
        return None
    front = front_of(limit)
    return (limit.aft_mm if front is None else front), limit.aft_mm


@styled
def draw_side_view(
    axes: Axes,
    aeroplane: Aeroplane,
    setups: Sequence[SetUpResult],
    limits: Sequence[AftLimit] = (),
    shown: SetUpResult | None = None,
) -> None:
    """Draw the aeroplane from its left side, nose left, in mm aft of the datum.

    Parameters
    ----------
    setups : sequence of SetUpResult
        Their packs are outlined where they lie, their balance points marked by open circles.
    limits : sequence of AftLimit
        The band of the one searched for the set-up that is shown is filled; of no other.
    shown : SetUpResult, optional
        The one whose pack and balance point are drawn and named; the first if left out.

    Notes
    -----
    Quartered disc: balance point; open circles: those of the other set-ups; diamond:
    neutral point; filled box: pack; grey bar: tray.
    """
    draw_aeroplane(axes, aeroplane, "side", strips=False)
    ref, tray = reference(aeroplane), aeroplane.tray
    axes.plot([tray.front_aft_mm, tray.rear_aft_mm], [tray.up_mm] * 2, color=FAINT, lw=2.5)
    for place in sorted({(x.pack, round(x.pack_aft_mm, 1)) for x in setups}):
        draw_pack(axes, aeroplane, *place, fc="none", ec=FAINT, lw=0.8, ls=":")
    named: list[tuple[float, float, str]] = []
    shown = shown or (setups[0] if setups else None)
    own = None if shown is None else own_limit(limits, shown)
    if own is None and shown is None and len(limits) == 1:
        own = limits[0]
    band = band_ends(own)
    if band is not None:
        _band(axes, aeroplane, band)
        named.append((band[0], 0.0, _band_words(band)))
    radius = 12.0 * ref.length_m
    for aft in sorted({round(x.balance_aft_mm, 1) for x in setups if x is not shown}):
        axes.add_patch(Circle((aft, 0.0), 0.45 * radius, fc=SHEET, ec=INK, lw=0.8, zorder=5.5))
    if shown is not None:
        draw_pack(axes, aeroplane, shown.pack, shown.pack_aft_mm, fc=ORANGE, ec=INK, lw=1.0)
        draw_balance_symbol(axes, shown.balance_aft_mm, 0.0, radius)
        neutral = 1000.0 * ref.aft_m(shown.neutral_point_pct_mac)
        draw_neutral_symbol(axes, neutral, 0.0, 6.0)
        named += [
            (shown.pack_aft_mm, tray.up_mm, f"pack {shown.pack} at {LENGTH(shown.pack_aft_mm)}"),
            (shown.balance_aft_mm, 0.0, f"balance point {LENGTH.ahead(shown.balance_aft_mm)}"),
            (neutral, 0.0, f"neutral point {LENGTH(neutral)}"),
        ]
        axes.set_title(f"set-up {shown.name}, from the left", fontsize=9.5)
    _labels(axes, named, LABEL_SHARE * 1000.0 * ref.length_m)
    axes.set_xlabel(f"{LENGTH.spelled} aft of the datum")
    axes.set_ylabel(f"{LENGTH.spelled} up")
    for axis in (axes.xaxis, axes.yaxis):
        in_units(axis, LENGTH)
    axes.spines["left"].set_visible(False)


def _band(axes: Axes, aeroplane: Aeroplane, band: tuple[float, float]) -> None:
    tall = max(s.height_mm for body in aeroplane.bodies for s in body.stations)
    corner, width = (band[0], -0.75 * tall), max(band[1] - band[0], 1.0)
    axes.add_patch(
        Rectangle(corner, width, 1.5 * tall, fc=BLUE, ec=INK, lw=0.6, alpha=0.75, zorder=5)
    )


def _band_words(band: tuple[float, float]) -> str:
    ends = range_words(LENGTH.at_least(band[0]), LENGTH.at_most(band[1]))
    return f"requirement met, {ends} {LENGTH}"


def _labels(axes: Axes, named: Sequence[tuple[float, float, str]], line_mm: float) -> None:
    """Write labels below the aeroplane, each on a line of its own under its point.

    The rearmost stands highest and every text runs aft, so no leader crosses a text.
    """
    low, high = axes.get_ylim()
    ticks = [tick for tick in axes.get_yticks() if low <= tick <= high]
    for i, (aft, up, text) in enumerate(sorted(named, key=lambda item: -item[0])):
        level = low - line_mm * (i + 0.3)
        axes.plot([aft, aft], [up, level], color=INK, lw=0.7, zorder=4)
        axes.annotate(
            text, (aft, level), xytext=(3, 0), textcoords="offset points", va="center", fontsize=9
        )
    axes.set_ylim(low - line_mm * (len(named) + 0.2), high)
    axes.set_yticks(ticks)
