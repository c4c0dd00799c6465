"""Balance points by pack on a wide scale, with the band that met the requirement."""

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import fill
from typing import Any

from matplotlib.axes import Axes
from matplotlib.patches import ConnectionPatch

from sim.describe import Aeroplane
from sim.landing.forward import ForwardLimit
from sim.show.drawing.canvas import BLUE, FAINT, GREY, INK, MARK, SHEET, styled
from sim.show.drawing.fitting import wrapped
from sim.show.drawing.scales import in_units
from sim.show.figures.study_figures import FILLS, MARKERS
from sim.show.words.places.limits import gone_text, several_combinations
from sim.study.results.aft_limit import AftLimit
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import combination_of, own_limit
from sim.study.standing.outcomes import setup_outcome
from sim.study.standing.window import aft_whole
from sim.units.quantities import LENGTH
from sim.weigh.reference import Reference, reference

LETTER_PT, AIR_PT = 4.9, 4.0  # how wide a letter of a name stands, and the air between two names
FIGURES_AIR_PT = 9.0  # between two figures, which run into one number where they stand close
LONGEST_NAME = 16  # letters; where one of a row is longer, its set-ups are told by their mm
ROW_ROOM = 0.8
ENDS_IN, ROW_IN, CROWDED_ROW_IN = 0.95, 0.52, 0.72  # of the picture's height: both ends, a row
FAR_SHARE = 0.5  # of the scale: further ahead than this, a forward limit is told, not drawn
LABEL_WIDTH = 16
LABEL_POINTS = 7.5  # four lines of a name are no higher than a row of the report
ON_LINES: dict[str, object] = {"fc": SHEET, "ec": "none", "pad": 0.8}


@styled
def draw_balance_scale(
    axes: Axes,
    aeroplane: Aeroplane,
    setups: Sequence[SetUpResult],
    limits: Sequence[AftLimit],
    required_share_pct: float = 95.0,
) -> None:
    """Draw, on a wide scale in mm, balance points by pack and the band that met the requirement.

    One row for each pack and combination of throws, nozzle, gyro and loose weights. The
    filled band runs from the foremost balance point tried to the aft limit, and is striped
    where it lies behind the neutral point; the thin line under it is the 95 % limits of the
    aft limit; hatched is what lies between it and the first failure. The upright bar is the
    forward limit by full aft stick, with its 95 % limits, or an arrow to where it lies
    beyond the scale. Set-ups carry the symbol of their verdict: disc met, diamond undecided,
    cross not met.
    Where a pack's limit holds only without a manoeuvre that is not to be flown, its band is hollow
    and says so.
    """
    ref = reference(aeroplane)
    rows = _rows(setups, limits)
    places = [x.balance_aft_mm for x in setups] + [
        s.balance_aft_mm for x in limits for s in x.steps
    ]
    reach = max(places, default=1.0) - min(places, default=0.0)
    for i, row in enumerate(rows):
        if row.limit is not None:
            _band(axes, row.limit, i)
        if row.forward is not None and row.forward.aft_mm is not None:
            aft = None if row.limit is None else row.limit.held.aft_mm
            least = min(places, default=row.forward.aft_mm)
            _forward(axes, row.forward, i, least, reach, aft)
        _setups(axes, row.setups, i, required_share_pct)
    neutrals = [1000.0 * ref.aft_m(x.neutral_point_pct_mac) for x in setups]
    neutrals += [x.neutral_mm for x in limits if x.neutral_mm is not None]
    if neutrals:
        _neutral(axes, min(neutrals), len(rows))
    labels = [wrapped(row.label, LABEL_WIDTH) for row in rows]
    axes.set_yticks(range(len(rows)), labels, fontsize=LABEL_POINTS)
    axes.tick_params(axis="y", length=0)
    axes.set_ylim(len(rows) - 0.1 if neutrals else len(rows) - 0.45, -ROW_ROOM)
    along = f"balance point, {LENGTH.spelled} aft of the datum: {aeroplane.datum.text}"
    axes.set_xlabel(fill(along, 58))
    axes.use_sticky_edges = False
    axes.margins(x=0.12)
    for i, row in enumerate(rows):
        _names(axes, row.setups, i)
    _percent_axis(axes, ref)
    in_units(axes.xaxis, LENGTH)
    axes.grid(axis="x")


@dataclass(frozen=True)
class _Row:
    label: str
    limit: AftLimit | None
    setups: Sequence[SetUpResult]
    forward: ForwardLimit | None


def scale_in(setups: Sequence[SetUpResult], limits: Sequence[AftLimit]) -> float:
    """Return how high the scale is to be, in inches.

    Where names of a row may stand on two levels below another row's limits, rows lie further apart.
    """
    rows = _rows(setups, limits)
    crowded = any(len(row.setups) > 1 for row in rows[1:])
    return ENDS_IN + (CROWDED_ROW_IN if crowded else ROW_IN) * (len(rows) + 0.5)


def _rows(setups: Sequence[SetUpResult], limits: Sequence[AftLimit]) -> list[_Row]:
    """Return a row for each limit, and for set-ups whose combination was not searched."""
    several = several_combinations(limits)
    out = []
    for x in limits:
        own = [s for s in setups if own_limit(limits, s) is x]
        like = f", as in {x.as_in}" if several else ""
        out.append(_Row(f"{x.pack}{like}", x, own, x.forward))
    rest: dict[tuple[str, ...], list[SetUpResult]] = {}
    for s in setups:
        if own_limit(limits, s) is None:
            rest.setdefault((s.pack, *combination_of(s)), []).append(s)
    searched = bool(limits)
    for group in rest.values():
        label = f"{group[0].pack}, not searched" if searched else group[0].pack
        out.append(_Row(label, None, group, group[0].forward))
    return out


def _setups(axes: Axes, setups: Sequence[SetUpResult], row: int, required: float) -> None:
    for x in setups:
        stands = setup_outcome(x, required)
        axes.plot([x.balance_aft_mm], [row], MARKERS[stands], ms=9, mfc=FILLS[stands], mec=INK,
                  mew=1.0, zorder=5)  # fmt: skip


def _names(axes: Axes, setups: Sequence[SetUpResult], row: int) -> None:
    """Write what each set-up of a row is called above it, on as few levels as keep them apart.

    Their names, or in a crowded row their places in mm, without those for which there is no room;
    the scale must be final.
    """
    ordered = sorted(setups, key=lambda x: x.balance_aft_mm)
    places = [x.balance_aft_mm for x in ordered]
    low, high = axes.get_xlim()
    room = axes.bbox.width * 72.0 / axes.figure.dpi / (high - low)
    names = [x.name for x in ordered]
    levels = _levels([x * room for x in places], names)
    if max(map(len, names), default=0) > LONGEST_NAME or max(levels, default=0) > 1:
        names = [LENGTH.at_most(x) for x in places]
        levels = _levels([x * room for x in places], names, FIGURES_AIR_PT)
    for place, name, level in zip(places, names, levels, strict=True):
        if level > 1:
            continue
        axes.annotate(
            name, (place, row), xytext=(0, 10 + 11 * level), textcoords="offset points",
            ha="center", fontsize=8.5, bbox=ON_LINES, zorder=4,
        )  # fmt: skip


def _levels(places: Sequence[float], names: Sequence[str], air_pt: float = AIR_PT) -> list[int]:
    """Return on which level each name stands free of those before it; places in points."""
    ends: list[float] = []
    out = []
    for place, name in zip(places, names, strict=True):
        half = 0.5 * LETTER_PT * len(name)
        level = next((i for i, end in enumerate(ends) if place - half > end), len(ends))
        ends[level:] = [place + half + air_pt, *ends[level + 1 :]]
        out.append(level)
    return out


def _neutral(axes: Axes, neutral: float, rows: int) -> None:
    axes.axvline(neutral, color=MARK, lw=1.2, ls=":", zorder=1)
    axes.annotate(
        f"neutral point, foremost {LENGTH(neutral)}", (neutral, rows - 0.3), xytext=(4, 0),
        textcoords="offset points", fontsize=8.5, va="center",
    )  # fmt: skip


def limits_of(forward: ForwardLimit, place: float) -> tuple[float, float]:
    """Return the 95 % limits of a forward limit [mm aft], its ``place`` for one that is unknown."""
    low = place if forward.low_mm is None else forward.low_mm
    high = place if forward.high_mm is None else forward.high_mm
    return low, high


def _band(axes: Axes, limit: AftLimit, row: int) -> None:
    tried = [step.balance_aft_mm for step in limit.steps]
    front = min(tried, default=limit.aft_mm or 0.0)
    if limit.without is not None and limit.without.aft_mm is not None:
        _band_without(axes, limit, limit.without, row)
        return
    if limit.aft_mm is None:
        axes.plot([front], [row], "X", ms=9, color=MARK, zorder=4)
        axes.annotate("not shown here", (front, row + 0.22), xytext=(0, -2), ha="center", va="top",
                      textcoords="offset points", fontsize=8.5, bbox=ON_LINES)  # fmt: skip
        return
    axes.barh(row, limit.aft_mm - front, left=front, height=0.3, color=BLUE, alpha=0.85)
    if limit.behind_neutral_mm > 0.0 and limit.neutral_mm is not None:
        start = max(front, limit.neutral_mm)
        axes.barh(row, limit.aft_mm - start, left=start, height=0.3, fc="none", ec=MARK,
                  hatch="\\\\\\\\", lw=0.0)  # fmt: skip
    low = limit.aft_mm if limit.low_mm is None else limit.low_mm
    high = limit.aft_mm if limit.high_mm is None else limit.high_mm
    axes.plot([low, high], [row + 0.2, row + 0.2], color=MARK, lw=1.6, marker="|", ms=5)
    if limit.first_failure_mm is not None:
        gap = limit.first_failure_mm - limit.aft_mm
        axes.barh(row, gap, left=limit.aft_mm, height=0.3, color=GREY, hatch="////", ec=MARK)
    place = f"{LENGTH.at_most(limit.aft_mm)} {LENGTH}"
    text = f"beyond {place}" if limit.at_end else f"aft limit {place}"
    if limit.behind_neutral_mm > 0.0:
        text += ", BEHIND the neutral point"
    axes.annotate(text, (limit.aft_mm, row + 0.22), xytext=(3, -2), textcoords="offset points",
                  ha="left", va="top", fontsize=8.5, weight="bold", bbox=ON_LINES)  # fmt: skip


def _band_without(axes: Axes, limit: AftLimit, rest: AftLimit, row: int) -> None:
    """Draw, hollow, the band that holds without what is not to be flown."""
    assert rest.aft_mm is not None
    front = min([rest.aft_mm, *(step.balance_aft_mm for step in rest.steps)])
    axes.barh(row, rest.aft_mm - front, left=front, height=0.3, fc="none", ec=BLUE, lw=1.6, ls="--")
    low, high = (rest.aft_mm if x is None else x for x in (rest.low_mm, rest.high_mm))
    axes.plot([low, high], [row + 0.2, row + 0.2], color=MARK, lw=1.6, marker="|", ms=5)
    place = f"{LENGTH.at_most(rest.aft_mm)} {LENGTH}"
    beyond = "beyond" if rest.at_end else "aft limit"
    text = f"{beyond} {place} WITHOUT {gone_text(limit)}"
    axes.annotate(text, (rest.aft_mm, row + 0.22), xytext=(3, -2), textcoords="offset points",
                  ha="left", va="top", fontsize=8.5, weight="bold", bbox=ON_LINES)  # fmt: skip


def _forward(
    axes: Axes, forward: ForwardLimit, row: int, least: float, reach: float, aft: float | None
) -> None:
    """Draw a forward limit: a bar and its 95 % limits, or an arrow where it lies far ahead."""
    place = forward.aft_mm
    assert place is not None
    text = f"forward limit {LENGTH.at_least(aft_whole(place))} {LENGTH}"
    if place < least - FAR_SHARE * max(reach, 1.0):
        axes.annotate(
            f"\N{LEFTWARDS ARROW} {text}", (0.0, row + 0.22), xytext=(2, -2), va="top",
            xycoords=("axes fraction", "data"), textcoords="offset points", fontsize=8.5,
            bbox=ON_LINES, zorder=4,
        )  # fmt: skip
        return
    axes.plot([place, place], [row - 0.22, row + 0.22], color=INK, lw=3.0, zorder=4)
    ends = limits_of(forward, place)
    axes.plot(ends, [row + 0.2, row + 0.2], color=INK, lw=1.4, marker="|", ms=5, zorder=4)
    at, shift, across, upright = (place, row + 0.22), (0, -2), "center", "top"
    if aft is not None and place > aft:
        at, shift, across, upright = (place, row - 0.1), (5, 0), "left", "bottom"
    elif aft is not None:
        shift, across = (-3, -2), "right"
    axes.annotate(text, at, xytext=shift, textcoords="offset points", ha=across, va=upright,
                  fontsize=8.5, weight="bold", bbox=ON_LINES, zorder=3)  # fmt: skip


def _percent_axis(axes: Axes, ref: Reference) -> None:
    def percent(mm: Any) -> Any:
        return ref.pct_mac(mm / 1000.0)

    def millimetres(pct: Any) -> Any:
        return 1000.0 * ref.aft_m(pct)

    above = axes.secondary_xaxis("top", functions=(percent, millimetres))
    above.set_xlabel("% MAC")


@styled
def join_scales(above: Axes, below: Axes) -> None:
    """Draw, between a side view and the scale below it, which part of it is enlarged."""
    low, high = below.get_xlim()
    for mm, corner in ((low, 0.0), (high, 1.0)):
        line = ConnectionPatch(
            (mm, above.get_ylim()[0]), (corner, 1.0), above.transData, below.transAxes,
            color=FAINT, lw=0.7, ls=":",
        )  # fmt: skip
        line.set_in_layout(False)
        above.figure.add_artist(line)
    above.axvspan(low, high, ymax=0.02, color=FAINT, alpha=0.6, lw=0)
