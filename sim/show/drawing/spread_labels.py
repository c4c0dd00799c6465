"""Short labels on marks that lie close together: moved aside until none covers another."""

from collections.abc import Sequence
from math import cos, pi, sin

import numpy as np
from matplotlib.axes import Axes

from sim.show.drawing.canvas import INK, SHEET

LETTER_PT = (4.6, 9.5)  # how wide and high a letter of 7 pt stands
AIR_PT = 5.0  # between two texts beside each other
RINGS, SPOKES = 6, 16
RING_PT = 10.0

Box = tuple[float, float, float, float]


def spread_labels(
    axes: Axes,
    places: Sequence[tuple[float, float]],
    texts: Sequence[str],
    keep_clear: Sequence[tuple[float, float]] = (),
) -> None:
    """Write a text on each place, or beside it with a thin line to it where there is no room.

    Parameters
    ----------
    places : sequence of (float, float)
        In data coordinates; limits and position of the axes must be final.
    keep_clear : sequence of (float, float)
        Places of marks that no text may cover.
    """
    point = axes.figure.dpi / 72.0
    to_points = axes.transData.transform
    taken = [_box(to_points(place) / point, "00") for place in keep_clear]
    wanted = [to_points(place) / point for place in places]
    left, low, right_end, high = np.array(axes.bbox.extents) / point
    frame = (float(left), float(low), float(right_end), float(high))
    for place, at, text in zip(places, wanted, texts, strict=True):
        right, up = _free(at, text, taken, frame)
        taken.append(_box(at + np.array([right, up]), text))
        moved = (right, up) != (0.0, 0.0)
        axes.annotate(
            text, place, xytext=(right, up), textcoords="offset points", ha="center", va="center",
            fontsize=7.5, color="black" if not moved else INK, zorder=9,
            arrowprops={"arrowstyle": "-", "color": INK, "lw": 0.5, "shrinkA": 0, "shrinkB": 0}
            if moved else None,
            bbox={"fc": SHEET, "ec": "none", "pad": 0.4} if moved else None,
        )  # fmt: skip


def _box(middle: np.ndarray, text: str) -> Box:
    wide, high = (LETTER_PT[0] * len(text) + AIR_PT) / 2.0, LETTER_PT[1] / 2.0
    return middle[0] - wide, middle[1] - high, middle[0] + wide, middle[1] + high


def _meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _within(box: Box, frame: Box) -> bool:
    return frame[0] <= box[0] and frame[1] <= box[1] and box[2] <= frame[2] and box[3] <= frame[3]


def _free(at: np.ndarray, text: str, taken: Sequence[Box], frame: Box) -> tuple[float, float]:
    """Return the nearest offset [points] at which a text covers nothing that is taken.

    Inside the frame where there is room, or else out of it.
    """
    offsets = [(0.0, 0.0)]
    for ring in range(1, RINGS + 1):
        turns = [2.0 * pi * (spoke / SPOKES) + pi / 2.0 for spoke in range(SPOKES)]
        offsets += [(ring * RING_PT * cos(t), ring * RING_PT * sin(t)) for t in turns]
    free = []
    for offset in offsets:
        box = _box(at + np.array(offset), text)
        if not any(_meet(box, other) for other in taken):
            if _within(box, frame):
                return offset
            free.append(offset)
    return free[0] if free else (0.0, 0.0)
