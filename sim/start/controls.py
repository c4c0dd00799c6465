"""Movable parts from a ruler: widths, ends and pivot; throws in mm at the trailing edge."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import atan, ceil, cos, log, radians, tan

from sim import tables
from sim.start.asking.question import Answer
from sim.start.planform import Measured, Panel, from_the_side

MORE_UP, MORE_DOWN = "elevator_more_up_deg", "elevator_more_down_deg"
THROWS = frozenset(
    ("aileron_up_deg", "aileron_down_deg", "elevator_up_deg", "elevator_down_deg", "rudder_deg",
     "flap_down_deg", MORE_UP, MORE_DOWN)
)  # fmt: skip
PIVOT = "pivot_back_mm"
PIVOT_PCT = (0.0, 60.0)  # of the mean chord: what a file may have
MOST_PCT = 80.0  # of the chord: what a file may have
READING_MM = 3.0  # two readings of a ruler that should agree do within this (common practice)


PIECE = 1.5  # how much a piece's share of the chord may grow along it: a fifth about its mean (own)


@dataclass(frozen=True)
class PieceTold:
    """Ends in per cent of the panel's span, and chord in per cent of the chord there."""

    inner_pct: float
    outer_pct: float
    chord_pct: float


@dataclass(frozen=True)
class FlapTold:
    """Its pieces, the innermost first, and its width at the inner end [mm]."""

    pieces: tuple[PieceTold, ...]
    width_mm: float | None = None
    measured: bool = False

    @property
    def outer_pct(self) -> float:
        """Where it ends, in per cent of the panel's span."""
        return self.pieces[-1].outer_pct


def _given(answers: Mapping[str, Answer], key: str) -> float | None:
    value = answers.get(key)
    return value if isinstance(value, float) else None


def arm_key(throw: str, answers: Mapping[str, Answer]) -> str:
    """Return the question whose answer a throw in mm needs: a width, or where the pivot lies."""
    what = throw.partition("_")[0]
    if what == "elevator" and answers.get("kind") == "delta":
        what = "aileron"
    elif what == "elevator" and answers.get("tail_moves") == "whole":
        return PIVOT
    return f"{what}_width_mm"


def arm_mm(throw: str, answers: Mapping[str, Answer]) -> float | None:
    """Return the distance from hinge or pivot to the trailing edge at the inner end [mm].

    None where it was not answered; geometry. A pivot left blank is the usual one of its kind.
    """
    key = arm_key(throw, answers)
    arm = _given(answers, key)
    if key != PIVOT:
        return arm
    root, back = (
        _given(answers, "tail_root_chord_mm"),
        _usual_pivot(answers) if arm is None else arm,
    )
    return None if root is None or back is None else root - back


def pivot_assumed(throw: str, answers: Mapping[str, Answer]) -> bool:
    """Return whether a throw in mm hangs on a pivot that was left blank."""
    return arm_key(throw, answers) == PIVOT and _given(answers, PIVOT) is None


def _usual_pivot(answers: Mapping[str, Answer]) -> float | None:
    """Return how far behind its root's leading edge the usual pivot of its kind lies [mm]."""
    told = (
        _given(answers, f"tail_{x}_mm") for x in ("span", "root_chord", "tip_chord", "tip_back")
    )
    named = answers.get("kind")
    kind = next((x for name, x in tables.kinds().kinds.items() if name == named), None)
    sizes = [x for x in told if x is not None]
    if kind is None or len(sizes) < 4:
        return None
    lead, mean = mean_chord(from_the_side(Measured(0.0, *sizes), 0.0))
    return lead + 0.01 * kind.flaps.pivot_pct * mean


def flap_told(
    answers: Mapping[str, Answer], what: str, panel: Panel, reach_mm: float,
    usual: tuple[float, float, float],
) -> FlapTold:  # fmt: skip
    """Return a flap as measured, else the usual one of its kind; geometry.

    Parameters
    ----------
    what : str
        aileron, elevator or rudder.
    panel : Panel
        What it hangs on.
    reach_mm : float
        From where its ends are measured to the panel's tip.
    usual : three of float
        Inner and outer end and chord [%], for what was left blank.

    Notes
    -----
    A width is measured square to the hinge, which runs along the trailing edge. Where its share of
    the chord grows along it, as one of constant width on a tapered panel, it is told in pieces,
    each of the area that it has.
    """
    width = _given(answers, f"{what}_width_mm")
    ends = [_given(answers, f"{what}_{end}_mm") for end in ("inner", "outer")]
    inner, outer = (
        pct if end is None else min(100.0 * end / reach_mm, 100.0)
        for end, pct in zip(ends, usual, strict=False)
    )
    if width is None:
        return FlapTold((PieceTold(inner, outer, usual[2]),))
    tip = _given(answers, f"{what}_tip_width_mm")
    last = width if tip is None else tip
    # of one that begins below what it hangs on, what hangs on it
    below = max(0.0, -inner) / (outer - min(inner, 0.0))
    inner, widths = max(inner, 0.0), (width + below * (last - width), last)
    return FlapTold(_pieces(panel, inner, outer, widths), width, None not in ends)


def _pieces(
    panel: Panel, inner: float, outer: float, widths: tuple[float, float]
) -> tuple[PieceTold, ...]:
    """Return a flap between two places [% of the panel], with its widths there [mm]; geometry.

    Widths and chords run straight: means of their ends give areas, and a share of the chord stands
    at one place. Each piece's share grows as much as the next one's.
    """
    taper = panel.root_chord_mm - panel.tip_chord_mm
    lean = cos(atan(tan(radians(panel.sweep_deg)) - taper / panel.panel_span_mm))
    first, last = (panel.root_chord_mm - 0.01 * at * taper for at in (inner, outer))
    wide, ends = widths[0] / lean, widths[1] / lean
    low, high = wide / first, ends / last
    count = max(1, ceil(abs(log(high / low)) / log(PIECE)))
    inside = (low * (high / low) ** (i / count) for i in range(1, count))
    along = [(wide - x * first) / (wide - ends - x * (first - last)) for x in inside]
    out = []
    for a, b in pairwise((0.0, *along, 1.0)):
        area = 2.0 * wide + (a + b) * (ends - wide)
        pct = 100.0 * area / (2.0 * first + (a + b) * (last - first))
        begins, stops = (inner + x * (outer - inner) for x in (a, b))
        out.append(PieceTold(begins, stops, min(pct, MOST_PCT)))
    return tuple(out)


def mean_chord(panel: Panel) -> tuple[float, float]:
    """Return where the mean aerodynamic chord begins behind the root's edge, and its length [mm].

    Of a straight taper it lies at (1 + 2 r) / (3 (1 + r)) of the span, r tip over root chord;
    geometry.
    """
    ratio = panel.tip_chord_mm / panel.root_chord_mm
    out = (1.0 + 2.0 * ratio) / (3.0 * (1.0 + ratio))
    mean = panel.root_chord_mm * 2.0 / 3.0 * (1.0 + ratio + ratio**2) / (1.0 + ratio)
    return out * panel.panel_span_mm * tan(radians(panel.sweep_deg)), mean


def pivot_pct(back_mm: float, panel: Panel) -> float:
    """Return how far behind its leading edge a pivot cuts the mean chord, in per cent; geometry.

    ``back_mm`` [mm] is its place behind the root's leading edge.
    """
    lead, mean = mean_chord(panel)
    return 100.0 * (back_mm - lead) / mean
