"""Clicked corners to a straight-tapered panel, clicked edges to a body's outline, in mm."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.trace.frame import Frame, Untraceable
from sim.trace.points import Point

LEAST_MM = 5.0  # of a span or a pointed tip's chord, as a file may have
NOSE_MM = 4.0  # width of a nose of which only the tip was clicked
CLOSE = 0.03  # of a length: within that two places are one
ORDER = "click root leading edge, tip leading edge, tip trailing edge, root trailing edge"


@dataclass(frozen=True)
class Panel:
    """A panel as seen: chords [mm] and places of its leading edge, aft of the nose and out."""

    root_aft: float
    root_out: float
    tip_aft: float
    tip_out: float
    root_chord: float
    tip_chord: float
    lead_out: float  # where its leading edge was clicked at the root

    @property
    def slope(self) -> float:
        """How far its leading edge goes aft a mm outwards."""
        return (self.tip_aft - self.root_aft) / (self.tip_out - self.root_out)

    @property
    def area(self) -> float:
        """Area as seen, of this one panel [mm²]."""
        return 0.5 * (self.root_chord + self.tip_chord) * (self.tip_out - self.root_out)

    def carried_to(self, out: float) -> "Panel":
        """Return the panel with its straight edges carried on to a root further in; geometry."""
        by = (self.root_out - out) / (self.tip_out - self.root_out)
        return Panel(
            self.root_aft - by * (self.tip_aft - self.root_aft), out, self.tip_aft, self.tip_out,
            self.root_chord + by * (self.root_chord - self.tip_chord), self.tip_chord,
            self.lead_out,
        )  # fmt: skip


def panel_of(name: str, corners: Sequence[Point], frame: Frame, either_side: bool) -> Panel:
    """Return the panel of four corners; slanted ends are cut square, with the same area.

    Parameters
    ----------
    either_side : bool
        Whether a left half is as good as a right one (from above).

    Raises
    ------
    Untraceable
        Corners cross or lie in another order, there is no area, or it is ahead of the nose.
    """
    where = f"surfaces.{name}"
    (rl, tl, tt, rt) = (np.array(frame.place(x)) for x in corners)
    if min(x[0] for x in (rl, tl, tt, rt)) < 0.0:
        ahead = -min(x[0] for x in (rl, tl, tt, rt))
        text = f"a corner lies {ahead:.0f} mm ahead of the nose; are nose and end swapped?"
        raise Untraceable(where, text)
    if either_side and tl[1] + tt[1] < 0.0:
        for corner in (rl, tl, tt, rt):
            corner[1] *= -1.0
    root, tip = 0.5 * (rl[1] + rt[1]), 0.5 * (tl[1] + tt[1])
    if tip - root < LEAST_MM or tl[1] <= rl[1] or tt[1] <= rt[1]:
        word = "out" if either_side else "up"
        text = (
            f"has no area, or root and tip are swapped (the tip must lie further {word}): {ORDER}"
        )
        raise Untraceable(where, text)
    if either_side and root < -CLOSE * tip:
        raise Untraceable(where, "crosses the centreline: click one half only, right or left")

    def edge(inner: np.ndarray, outer: np.ndarray, out: float) -> float:
        share = (out - inner[1]) / (outer[1] - inner[1])
        return float(inner[0] + share * (outer[0] - inner[0]))

    lead = edge(rl, tl, root), edge(rl, tl, tip)
    chords = edge(rt, tt, root) - lead[0], edge(rt, tt, tip) - lead[1]
    pointed = -CLOSE * chords[0] < chords[1] < LEAST_MM  # a point, as near as it can be clicked
    if max(chords) < 0.0:
        text = "leading edge lies behind trailing edge: are nose and end of the body swapped? Else "
        raise Untraceable(where, f"{text}{ORDER}")
    if chords[0] < LEAST_MM or (chords[1] < LEAST_MM and not pointed):
        raise Untraceable(where, f"leading and trailing edge cross or are swapped: {ORDER}")
    return Panel(lead[0], root, lead[1], tip, chords[0], max(LEAST_MM, chords[1]), float(rl[1]))


@dataclass(frozen=True)
class Outline:
    """A body as seen: ``aft`` (n,) of the nose, ``size`` (n,) across, ``middle`` (n,) [mm]."""

    aft: np.ndarray
    size: np.ndarray
    middle: np.ndarray

    @property
    def length(self) -> float:
        """Nose to end [mm]."""
        return float(self.aft[-1])

    @property
    def area(self) -> float:
        """Area as seen [mm²]."""
        return float(np.trapezoid(self.size, self.aft))

    def size_at(self, aft: float) -> float:
        """Return how far it is across at a place [mm]; geometry."""
        return float(np.interp(aft, self.aft, self.size))

    def middle_at(self, aft: float) -> float:
        """Return how high its middle is at a place [mm]; geometry."""
        return float(np.interp(aft, self.aft, self.middle))


def half_body(edge: Sequence[Point], end: Point, frame: Frame) -> Outline | None:
    """Return the body of one edge seen from above; None where none was clicked."""
    if not edge:
        return None
    at, out = _run("edge", edge, frame)
    sides = out * np.sign(np.sum(out))
    if (sides < 0.0).any():
        raise Untraceable("edge", "crosses the centreline: click along one side of the body only")
    aft, half = _ended(at, sides, 0.5 * NOSE_MM, frame.place(end)[0])
    return Outline(aft, 2.0 * half, np.zeros_like(aft))


def side_body(upper: Sequence[Point], lower: Sequence[Point], end: Point,
              frame: Frame) -> Outline | None:  # fmt: skip
    """Return the body of its upper and lower edge; None where neither was clicked."""
    if not upper and not lower:
        return None
    if not upper or not lower:
        missing = "lower" if upper else "upper"
        raise Untraceable(missing, "is missing; upper and lower edge go together")
    long = frame.place(end)[0]
    top = _ended(*_run("upper", upper, frame), 0.5 * NOSE_MM, long)
    low = _ended(*_run("lower", lower, frame), -0.5 * NOSE_MM, long)
    aft = _merged(np.union1d(top[0], low[0]), long)
    above, below = np.interp(aft, *top), np.interp(aft, *low)
    if (above <= below).any():
        raise Untraceable("lower", "lies above the upper edge: swapped, or the picture is upside "
                          "down")  # fmt: skip
    return Outline(aft, above - below, 0.5 * (above + below))


def _run(key: str, line: Sequence[Point], frame: Frame) -> tuple[np.ndarray, np.ndarray]:
    """Return a clicked edge as aft (n,) and out (n,) [mm], which must run aft."""
    places = np.array([frame.place(x) for x in line])
    if len(places) < 2:
        raise Untraceable(key, f"needs two points at least, from nose to tail; got {len(places)}")
    if (np.diff(places[:, 0]) <= 0.0).any():
        at = int(np.argmax(np.diff(places[:, 0]) <= 0.0)) + 2
        text = f"must run from nose to tail; point {at} lies ahead of the one before it"
        raise Untraceable(key, text)
    return places[:, 0], places[:, 1]


def _ended(at: np.ndarray, out: np.ndarray, nose: float, end: float
           ) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """Return an edge from 0 to the end, a click close to one of them moved there."""
    near = CLOSE * end / 3.0
    inside = (at > near) & (at < end - near)
    first = out[0] if at[0] <= near else nose
    return (
        np.concatenate([[0.0], at[inside], [end]]),
        np.concatenate([[first], out[inside], [out[-1]]]),
    )


def _merged(aft: np.ndarray, long: float) -> np.ndarray:
    """Return places of which none lies too close to the one before."""
    kept = [float(aft[0])]
    for x in aft[1:-1]:
        if x - kept[-1] > 0.5 * CLOSE * long and long - x > 0.5 * CLOSE * long:
            kept.append(float(x))
    return np.array([*kept, float(aft[-1])])
