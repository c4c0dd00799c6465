"""From pixels of a picture to mm aft of the nose, and outwards or up: turned and scaled."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sim.trace.points import Point, Points

LEAST_PX = 20.0  # of a length that sets the scale: a click is no better than one of them
STEEPEST = 0.7  # of a side view: the level line within 45 degrees of the picture's
CHECK_TOLD = 2.0  # per cent, as near as a traced area is to be
CHECK_REFUSED = 10.0


class Untraceable(ValueError):  # noqa: N818 - told as it stands
    """Points that make no aeroplane; ``where`` is the key, ``str`` says what is wrong."""

    def __init__(self, where: str, text: str) -> None:
        """Keep the key and the words."""
        self.where = where
        super().__init__(text)


@dataclass(frozen=True)
class Frame:
    """Axes of the aeroplane in the picture; ``aft`` and ``out`` (2,) are unit vectors.

    ``out`` is to the right wing tip from above, upwards from the side.
    """

    origin: np.ndarray
    aft: np.ndarray
    out: np.ndarray
    mm_a_pixel: float

    def place(self, point: Point) -> tuple[float, float]:
        """Return a pixel as (aft, out) [mm] of the nose; geometry."""
        away = (np.asarray(point) - self.origin) * self.mm_a_pixel
        return float(away @ self.aft), float(away @ self.out)


def frame_of(points: Points) -> Frame:
    """Return the axes of a picture from nose, body's end and known length; geometry.

    Raises
    ------
    Untraceable
        They are too near each other, or a side view stands on its end.
    """
    known = _apart(points.known)
    if known < LEAST_PX:
        raise Untraceable("known", f"its ends are {known:.0f} pixels apart; take a longer length")
    scale = points.known_mm / known
    nose, end = np.array(points.nose[0]), np.array(points.end[0])
    if points.level:
        nose, end = (np.array(x) for x in points.level)
    long = _apart((tuple(nose), tuple(end)))
    if long < LEAST_PX:
        raise Untraceable("end", "lies at the nose; click nose and end of the body anew")
    aft = (end - nose) / long
    out = np.array([aft[1], -aft[0]])
    if points.view == "side":
        if abs(aft[0]) < STEEPEST:
            text = "the aeroplane stands on its end: turn the picture until it lies level, or it "
            raise Untraceable("nose", f"{text}is a top view")
        out = out if out[1] < 0.0 else -out
    return Frame(np.array(points.nose[0]), aft, out, scale)


def check_error_pct(points: Points) -> float | None:
    """Return how much longer the second known length is traced than said [%]; geometry.

    Raises
    ------
    Untraceable
        By so much that the picture is of no use.
    """
    if not points.check or points.check_mm is None:
        return None
    error = 100.0 * (
        _apart(points.check) * points.known_mm / (_apart(points.known) * points.check_mm) - 1.0
    )
    if abs(error) > CHECK_REFUSED:
        text = f"the second known length comes out {error:+.0f} %: one of the two was mistyped or "
        raise Untraceable("check_mm", f"{text}misclicked, or the picture was taken too slantwise")
    return error


def _apart(ends: Sequence[Point]) -> float:
    return float(np.hypot(*(np.asarray(ends[1]) - np.asarray(ends[0]))))
