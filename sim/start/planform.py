"""From where a ruler goes to where a file's surfaces begin: roots carried on to the middle."""

from dataclasses import dataclass
from itertools import pairwise
from math import atan, degrees, hypot

from sim import tables
from sim.tables.models.kinds import Shape


@dataclass(frozen=True)
class Panel:
    """One panel as a file has it [mm, degrees]; x is the wing's leading edge at the body."""

    root_aft_mm: float
    root_right_mm: float
    root_up_mm: float
    panel_span_mm: float
    root_chord_mm: float
    tip_chord_mm: float
    sweep_deg: float
    dihedral_deg: float


@dataclass(frozen=True)
class Measured:
    """A lying surface as measured: span tip to tip, chords at the body's side and the tip [mm]."""

    back: float
    span: float
    root: float
    tip: float
    tip_back: float
    up: float = 0.0
    tip_up: float = 0.0


def to_the_middle(surface: Measured, inner_mm: float) -> Panel:
    """Return a surface that runs through the body: chord and edge carried on to the middle.

    Geometry: straight edges; ``inner_mm`` is half the body's width there.
    """
    inner = min(inner_mm, 0.25 * surface.span)
    across = 0.5 * surface.span - inner
    share = inner / across
    half, rise = 0.5 * surface.span, surface.tip_up * (1.0 + share)
    length = hypot(half, rise)
    tip_back = surface.tip_back * (1.0 + share)
    return Panel(
        root_aft_mm=surface.back - surface.tip_back * share,
        root_right_mm=0.0,
        root_up_mm=surface.up - surface.tip_up * share,
        panel_span_mm=length,
        root_chord_mm=surface.root + (surface.root - surface.tip) * share,
        tip_chord_mm=surface.tip,
        sweep_deg=degrees(atan(tip_back / length)),
        dihedral_deg=degrees(atan(rise / half)),
    )


def from_the_side(surface: Measured, inner_mm: float) -> Panel:
    """Return a surface of two halves outside the body, as an all-moving tailplane; geometry."""
    inner = min(inner_mm, 0.25 * surface.span)
    across = 0.5 * surface.span - inner
    sweep = degrees(atan(surface.tip_back / across))
    return Panel(
        surface.back, inner, surface.up, across, surface.root, surface.tip, sweep, 0.0
    )  # fmt: skip


def strake_panel(length: float, width: float, inner_mm: float) -> Panel:
    """Return a strake that runs from its front end back to the wing; geometry.

    Its outer end is a share of its length, kinds.toml, and no less than a file may have.
    """
    tip = max(5.0, tables.kinds().body.strake_tip_over_length * length)
    sweep = degrees(atan((length - tip) / width))
    return Panel(-length, inner_mm, 0.0, width, length, tip, sweep, 0.0)


@dataclass(frozen=True)
class Cut:
    """A cross-section of the body [mm]."""

    aft_mm: float
    width_mm: float
    height_mm: float


def body_cuts(ahead: float, length: float, sizes: tuple[tuple[float, float], ...],
              shape: Shape) -> list[Cut]:  # fmt: skip
    """Return a body's cross-sections from three measured ones; own, fuller than straight.

    How full: kinds.toml; heights and shape are drawn wide, assumed.toml.

    Parameters
    ----------
    ahead, length : float [mm]
        Nose ahead of x, and nose to end.
    sizes : three of (width, height) [mm]
        Half-way from the nose to x, at x, at the end.
    shape : Shape
        How wide the nose is.
    """
    full = tables.kinds().body
    front, middle, end = sizes
    nose = tuple(max(2.0, shape.nose_over_front * x) for x in front)
    back = length - ahead

    def way(a: tuple[float, ...], b: tuple[float, ...], share: float) -> tuple[float, float]:
        return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])

    cuts = [
        Cut(-ahead, *way(nose, front, 0.0)),
        Cut(-ahead * (1.0 - 0.5 * full.nose_at), *way(nose, front, full.nose_way)),
        Cut(-0.5 * ahead, *front),
        Cut(0.0, *middle),
    ]
    rear = zip(full.rear_at, full.rear_way, strict=True)
    cuts += [Cut(at * back, *way(middle, end, share)) for at, share in rear]
    return [*cuts, Cut(back, *end)]


def size_at(cuts: list[Cut], aft_mm: float) -> tuple[float, float]:
    """Return width and height of a body [mm] at a place, its ends' beyond them; geometry."""
    if aft_mm <= cuts[0].aft_mm:
        return cuts[0].width_mm, cuts[0].height_mm
    for a, b in pairwise(cuts):
        if aft_mm <= b.aft_mm:
            share = (aft_mm - a.aft_mm) / (b.aft_mm - a.aft_mm)
            return (
                a.width_mm + share * (b.width_mm - a.width_mm),
                a.height_mm + share * (b.height_mm - a.height_mm),
            )
    return cuts[-1].width_mm, cuts[-1].height_mm
