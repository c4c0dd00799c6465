"""Where a replay is seen from: the pilot's place, behind, above, the side."""

from collections.abc import Sequence
from math import acos, atan2, degrees, hypot, radians, tan
from typing import NamedTuple

import numpy as np

from sim.show.replay.track import Track

GROUND, CHASE, TOP, SIDE = VIEWS = ("from the ground", "from behind", "from above", "from the side")
EYE_M = 1.7
GROUND_ANGLE_DEG, WIDEST_DEG = 28.0, 80.0
STAND_OFF_M = 45.0  # from the nearest part of the path, as a club's rules might have it
# How many times as large as they are aeroplanes are drawn at least, and beyond that so much
# that the span is this share of the picture's height.
LEAST_LARGER = 4.0
SPAN_SHARE = {GROUND: 0.25, TOP: 0.18, SIDE: 0.18}
UP = np.array([0.0, 0.0, 1.0])


class Look(NamedTuple):
    """A camera: ``eye``, ``at`` and ``up`` (3,); ``half_height_m`` None is in perspective."""

    eye: np.ndarray
    at: np.ndarray
    up: np.ndarray
    angle_deg: float
    half_height_m: float | None


def look_from(
    view: str, tracks: Sequence[Track], t: float, low: np.ndarray, high: np.ndarray, scale: float
) -> Look:
    """Return the camera of a view at a time [s].

    Parameters
    ----------
    view : str
        One of ``VIEWS``; from behind, the first track is followed.
    low, high : float array (3,)
        The box around all paths [m].
    scale : float
        How many times as large as it is the aeroplane is drawn.
    """
    places = np.array([track.place(t) for track in tracks])
    middle = 0.5 * (low + high)
    if view == GROUND:
        return _from_the_ground(places, low, middle)
    if view == CHASE:
        return _from_behind(places[0], tracks[0], t, scale)
    reach = 0.5 * (high - low)
    if view == TOP:
        at = np.array([middle[0], middle[1], 0.0])
        half = max(reach[1], 0.6 * reach[0]) + 25.0
        return Look(at + UP * (high[2] + 200.0), at, np.array([0.0, 1.0, 0.0]), 30.0, half)
    at = np.array([middle[0], middle[1], 0.5 * high[2]])
    half = max(0.5 * high[2], 0.6 * reach[1]) + 24.0
    return Look(at - np.array([high[0] - low[0] + 200.0, 0.0, 0.0]), at, UP, 30.0, half)


def larger_from(
    view: str, tracks: Sequence[Track], t: float, low: np.ndarray, high: np.ndarray
) -> float:
    """Return how many times as large the aeroplanes are drawn, to be seen in a view.

    ``low`` and ``high`` (3,) are the box around all paths [m]. From the ground it is told for
    the middle of the box, so that an aeroplane still looks larger the nearer it comes.
    """
    if view not in SPAN_SHARE:
        return LEAST_LARGER
    look = look_from(view, tracks, t, low, high, LEAST_LARGER)
    half = look.half_height_m
    if half is None:
        away = float(np.linalg.norm(0.5 * (low + high) - look.eye))
        half = away * tan(radians(0.5 * look.angle_deg))
    span = max(track.told.mesh.span_m for track in tracks)
    return max(LEAST_LARGER, SPAN_SHARE[view] * 2.0 * half / span)


def _from_the_ground(places: np.ndarray, low: np.ndarray, middle: np.ndarray) -> Look:
    """Return the pilot's view: it follows the aeroplanes (n, 3), which stay in the upper half."""
    eye = np.array([low[0] - STAND_OFF_M, middle[1], EYE_M])
    ways = places - eye
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    way = ways.mean(axis=0)
    apart = acos(min(1.0, float((ways @ way).min()) / float(np.linalg.norm(way))))
    angle = min(WIDEST_DEG, max(GROUND_ANGLE_DEG, 4.5 * degrees(apart)))
    level = hypot(way[0], way[1])
    rise = atan2(way[2], level)
    below = radians(0.2 * angle)
    at = eye + np.array([way[0], way[1], level * tan(max(0.0, rise - below))])
    return Look(eye, at, UP, angle, None)


def _from_behind(place: np.ndarray, track: Track, t: float, scale: float) -> Look:
    size = scale * max(track.told.mesh.span_m, track.told.mesh.length_m)
    eye = place - 4.0 * size * track.heading(t) + 1.6 * size * UP
    eye[2] = max(eye[2], EYE_M)
    return Look(eye, place, UP, 32.0, None)
