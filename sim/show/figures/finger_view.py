"""Where to hold it to check the balance: the wing's root from above, two fingers, one arrow."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle, Polygon
from matplotlib.path import Path

from sim.describe import Aeroplane
from sim.show.drawing.canvas import styled
from sim.show.shapes.outline import body_outline, shapes_of
from sim.units.quantities import LENGTH

BLACK = "#000000"
FINGER_MM = 9.0  # half a fingertip
BESIDE_BODY_MM = 22.0
LETTERS = 11.0  # pt
AROUND = 0.09  # of the length shown, left free around it
LABEL_SHARE = 0.25  # of the length shown: a shorter distance has its length written beside it
MARK_SHARE = 0.011  # of the width shown: a finger mark is at least so large


def finger_right_mm(aeroplane: Aeroplane, balance_mm: float) -> float:
    """Return how far from the centreline to hold it [mm]: beside the body, under the wing."""
    halves = [
        float(np.interp(balance_mm, [s.aft_mm for s in body.stations],
                        [s.width_mm / 2.0 + abs(s.right_mm) for s in body.stations]))
        for body in aeroplane.bodies
        if body.stations[0].aft_mm <= balance_mm <= body.stations[-1].aft_mm
    ]  # fmt: skip
    roots = [w.root_right_mm for w in aeroplane.surfaces_as("wing")]
    return max([*halves, min(roots)]) + BESIDE_BODY_MM


def has_wing_there(aeroplane: Aeroplane, balance_mm: float) -> bool:
    """Return True where a wing or foreplane lies over the finger marks at a balance point."""
    mark = (balance_mm, finger_right_mm(aeroplane, balance_mm))
    return any(Path(shape.outline[:, :2]).contains_point(mark) for shape in shapes_of(aeroplane))


def _root_ends(aeroplane: Aeroplane) -> tuple[float, float]:
    """Return where root chords of wings, and of a foreplane, begin and end [mm aft of datum]."""
    wings = [*aeroplane.surfaces_as("wing"), *aeroplane.surfaces_as("canard")]
    return (
        min(w.root_aft_mm for w in wings),
        max(w.root_aft_mm + w.root_chord_mm for w in wings),
    )


@styled
def draw_finger_view(axes: Axes, aeroplane: Aeroplane, balance_mm: float) -> None:
    """Draw the wing's root, and a foreplane's, from above, nose up, in black.

    Two finger marks stand at the balance point, a dimension arrow runs to them from the
    datum, which is named; nothing but the neighbourhood is shown, to true scale.
    """
    front, rear = _root_ends(aeroplane)
    front, rear = min(front, 0.0, balance_mm), max(rear, 0.0, balance_mm)
    free = AROUND * (rear - front)
    hold = finger_right_mm(aeroplane, balance_mm)
    half = max(0.62 * (rear - front), hold + 6.0 * FINGER_MM)
    for body in aeroplane.bodies:
        _outline(axes, body_outline(body, "top"), 1.0)
    for shape in shapes_of(aeroplane):
        _outline(axes, shape.outline[:, :2], 1.4)
    axes.plot([-half, half], [-balance_mm] * 2, color=BLACK, lw=0.9, ls=(0, (6, 4)))
    for side in (-1.0, 1.0):
        size = max(FINGER_MM, MARK_SHARE * 2.0 * half)
        axes.add_patch(Circle((side * hold, -balance_mm), size, fc=BLACK, ec=BLACK, zorder=7))
    _dimension(axes, balance_mm, half, abs(balance_mm) < LABEL_SHARE * (rear - front))
    axes.set_xlim(-half, half)
    axes.set_ylim(-(rear + free), -(front - 2.8 * free))
    axes.set_aspect("equal")
    axes.axis("off")
    box = {"fc": "white", "ec": "none", "pad": 1.0}
    ahead = {"arrowstyle": "-|>", "color": BLACK}
    axes.annotate(
        "nose", (0.0, -(front - 2.7 * free)), (0.0, -(front - 0.6 * free)), ha="center",
        va="bottom", fontsize=LETTERS, color=BLACK, arrowprops=ahead, bbox=box,
    )  # fmt: skip


def _outline(axes: Axes, points: np.ndarray, width: float) -> None:
    """Draw an outline (n, 2) in mm aft, right as seen from above with the nose up."""
    turned = np.column_stack([points[:, 1], -points[:, 0]])
    axes.add_patch(Polygon(turned, closed=True, fc="none", ec=BLACK, lw=width))


def _dimension(axes: Axes, balance_mm: float, half: float, short: bool) -> None:
    """Draw the datum's line and the arrow from it to the balance point, with its length.

    ``short``: too short for the length to stand on the arrow, so it stands beyond its head.
    """
    at = 0.72 * half
    axes.plot([-half, half], [0.0, 0.0], color=BLACK, lw=0.9, ls=(0, (1, 2)))
    box = {"fc": "white", "ec": "none", "pad": 1.5}
    ahead = balance_mm < 0.0
    axes.annotate(
        "datum", (-half, 0.0), (2, -2 if ahead else 2), textcoords="offset points",
        fontsize=LETTERS, ha="left", va="top" if ahead else "bottom", color=BLACK, bbox=box,
    )  # fmt: skip
    look = {"arrowstyle": "<|-|>", "color": BLACK, "lw": 1.2, "shrinkA": 0, "shrinkB": 0,
            "mutation_scale": 5 if short else 10}  # fmt: skip
    axes.annotate("", (at, -balance_mm), (at, 0.0), arrowprops=look)
    beyond = 1.0 if ahead else -1.0  # upwards on the page
    axes.annotate(
        LENGTH.ahead(balance_mm).removeprefix("-"),
        (at, -balance_mm if short else -0.5 * balance_mm),
        (0.0, 4.0 * beyond if short else 0.0), textcoords="offset points", ha="center",
        va=("center" if not short else "bottom" if beyond > 0.0 else "top"),
        fontsize=LETTERS + 2, weight="bold", color=BLACK, bbox=box, zorder=6,
    )  # fmt: skip
