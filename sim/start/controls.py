"""Movable parts from a ruler: widths, ends and pivot; throws in mm at the trailing edge."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan, cos, radians, tan

from sim.start.planform import Panel
from sim.start.questions import Answer

MORE_UP, MORE_DOWN = "elevator_more_up_deg", "elevator_more_down_deg"
THROWS = frozenset(
    ("aileron_up_deg", "aileron_down_deg", "elevator_up_deg", "elevator_down_deg", "rudder_deg",
     "flap_down_deg", MORE_UP, MORE_DOWN)
)  # fmt: skip
PIVOT = "pivot_back_mm"
PIVOT_PCT = (0.0, 60.0)  # of the mean chord: what a file may have
MOST_PCT = 80.0  # of the chord: what a file may have


@dataclass(frozen=True)
class FlapTold:
    """Ends in per cent of the panel's span, mean chord in per cent, width at the inner end [mm]."""

    inner_pct: float
    outer_pct: float
    chord_pct: float
    width_mm: float | None = None
    measured: bool = False


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

    None where it was not answered; geometry.
    """
    key = arm_key(throw, answers)
    arm = _given(answers, key)
    if arm is None or key != PIVOT:
        return arm
    root = _given(answers, "tail_root_chord_mm")
    return None if root is None else root - arm


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
    A width is measured square to the hinge, which runs along the trailing edge; its share of the
    chord is the mean of its two ends'.
    """
    width = _given(answers, f"{what}_width_mm")
    ends = [_given(answers, f"{what}_{end}_mm") for end in ("inner", "outer")]
    inner, outer = (
        pct if end is None else min(100.0 * end / reach_mm, 100.0)
        for end, pct in zip(ends, usual, strict=False)
    )
    if width is None:
        return FlapTold(inner, outer, usual[2])
    tip = _given(answers, f"{what}_tip_width_mm")
    taper = panel.root_chord_mm - panel.tip_chord_mm
    lean = cos(atan(tan(radians(panel.sweep_deg)) - taper / panel.panel_span_mm))
    shares = [
        min(100.0 * wide / lean / (panel.root_chord_mm - 0.01 * at * taper), 100.0)
        for wide, at in ((width, inner), (width if tip is None else tip, outer))
    ]
    mean = min(0.5 * sum(shares), MOST_PCT)
    return FlapTold(inner, outer, mean, width, None not in ends)


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
