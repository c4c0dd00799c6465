"""Side view of the aeroplane with packs, balance points, neutral point and aft limits in mm."""

from collections.abc import Sequence
from typing import Any

from matplotlib.axes import Axes
from matplotlib.patches import Circle, Rectangle, Wedge

from sim.describe import Aeroplane
from sim.show.canvas import BLUE, FAINT, GREY, INK, MARK, ORANGE, SHEET, styled
from sim.show.outline import draw_aeroplane
from sim.study.result import AftLimit, SetUpResult
from sim.weigh.reference import Reference, reference


def balance_symbol(axes: Axes, aft: float, up: float, radius: float) -> None:
    """Draw the quartered disc of a balance point."""
    axes.add_patch(Circle((aft, up), radius, fc=SHEET, ec=INK, lw=1.0, zorder=6))
    for start in (0, 180):
        axes.add_patch(Wedge((aft, up), radius, start, start + 90, fc=INK, ec="none", zorder=7))


def neutral_symbol(axes: Axes, aft: float, up: float, size: float = 8.0) -> None:
    """Draw the open diamond of a neutral point."""
    axes.plot([aft], [up], "D", ms=size, mfc="none", mec=MARK, mew=1.6, zorder=8)


def draw_pack(axes: Axes, aeroplane: Aeroplane, pack: str, aft_mm: float, **look: Any) -> None:
    """Draw a pack as a box on its tray, in the side view."""
    size, tray = aeroplane.packs[pack], aeroplane.tray
    corner = (aft_mm - size.length_mm / 2.0, tray.up_mm - size.height_mm / 2.0)
    axes.add_patch(Rectangle(corner, size.length_mm, size.height_mm, **look))


@styled
def side_view(
    axes: Axes,
    aeroplane: Aeroplane,
    setups: Sequence[SetUpResult],
    limits: Sequence[AftLimit] = (),
) -> None:
    """Draw the aeroplane from its left side, nose left, in mm aft of the datum.

    Packs of all set-ups are outlined where they lie; balance points stand as quartered
    discs, the neutral point as a diamond, the aft limits as lines with the pack's name.
    """
    draw_aeroplane(axes, aeroplane, "side", strips=False)
    ref = reference(aeroplane)
    tray = aeroplane.tray
    axes.plot([tray.front_aft_mm, tray.rear_aft_mm], [tray.up_mm] * 2, color=FAINT, lw=2.5)
    for place in sorted({(x.pack, round(x.pack_aft_mm, 1)) for x in setups}):
        draw_pack(axes, aeroplane, *place, fc=ORANGE, ec=INK, lw=0.8, alpha=0.35)
    radius = 0.007 * 1000.0 * ref.length_m
    for aft in sorted({round(x.balance_aft_mm, 1) for x in setups}):
        balance_symbol(axes, aft, 0.0, radius)
    if setups:
        neutral_symbol(axes, 1000.0 * ref.aft_m(setups[0].neutral_point_pct_mac), 0.0)
    low, high = axes.get_ylim()
    for limit in limits:
        if limit.aft_mm is not None:
            axes.axvline(limit.aft_mm, color=MARK, lw=1.2, ls="--")
    axes.set_ylim(low, high)
    axes.set_xlabel("mm aft of the datum: " + aeroplane.datum.text)
    axes.set_ylabel("mm up")


@styled
def balance_scale(
    axes: Axes, aeroplane: Aeroplane, setups: Sequence[SetUpResult], limits: Sequence[AftLimit]
) -> None:
    """Draw, on a wide scale in mm, balance points by pack and the band that met the requirement.

    One row for each pack. The filled band runs from the foremost balance point tried to
    the aft limit; hatched is what lies between it and the first failure.
    """
    ref = reference(aeroplane)
    packs = list(dict.fromkeys([x.pack for x in limits] + [x.pack for x in setups]))
    for limit in limits:
        _band(axes, limit, packs.index(limit.pack))
    for x in setups:
        row = packs.index(x.pack)
        axes.plot([x.balance_aft_mm], [row], "o", ms=9, mfc=SHEET, mec=INK, mew=1.4, zorder=5)
        axes.annotate(
            x.name, (x.balance_aft_mm, row), xytext=(0, 9), textcoords="offset points",
            ha="center", fontsize=8,
        )  # fmt: skip
    if setups:
        neutral = 1000.0 * ref.aft_m(setups[0].neutral_point_pct_mac)
        axes.axvline(neutral, color=MARK, lw=1.0, ls=":")
        axes.annotate(
            f"neutral point {neutral:.0f} mm", (neutral, len(packs) - 0.55), xytext=(4, 0),
            textcoords="offset points", fontsize=8, va="center",
        )  # fmt: skip
    axes.set_yticks(range(len(packs)), packs)
    axes.set_ylim(len(packs) - 0.4, -0.7)
    axes.set_xlabel("balance point, mm aft of the datum")
    _percent_axis(axes, ref)
    axes.use_sticky_edges = False
    axes.margins(x=0.1)
    axes.grid(axis="x")


def _band(axes: Axes, limit: AftLimit, row: int) -> None:
    tried = [step.balance_aft_mm for step in limit.steps]
    front = min(tried, default=limit.aft_mm or 0.0)
    if limit.aft_mm is None:
        axes.plot([front], [row], "X", ms=9, color=MARK, zorder=4)
        axes.annotate("fails here", (front, row), xytext=(8, -3), textcoords="offset points",
                      fontsize=8)  # fmt: skip
        return
    axes.barh(row, limit.aft_mm - front, left=front, height=0.34, color=BLUE, alpha=0.8)
    if limit.first_failure_mm is not None:
        gap = limit.first_failure_mm - limit.aft_mm
        axes.barh(row, gap, left=limit.aft_mm, height=0.34, color=GREY, hatch="////", ec=MARK)
    text = f"beyond {limit.aft_mm:.0f} mm" if limit.at_end else f"aft limit {limit.aft_mm:.0f} mm"
    axes.annotate(text, (limit.aft_mm, row + 0.2), xytext=(0, -3), textcoords="offset points",
                  ha="right", va="top", fontsize=8, weight="bold")  # fmt: skip


def _percent_axis(axes: Axes, ref: Reference) -> None:
    def percent(mm: Any) -> Any:
        return ref.pct_mac(mm / 1000.0)

    def millimetres(pct: Any) -> Any:
        return 1000.0 * ref.aft_m(pct)

    above = axes.secondary_xaxis("top", functions=(percent, millimetres))
    above.set_xlabel("% MAC")
