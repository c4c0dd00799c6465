"""What is asked to be clicked, in order, and where, in plain words."""

from collections.abc import Sequence
from dataclasses import dataclass

from sim.describe import Surface
from sim.trace.points import View
from sim.trace.to_aeroplane import SEEN_FROM_DEG


@dataclass(frozen=True)
class Step:
    """One thing to click: each of its places in words; ``many`` has no fixed number of them.

    ``length`` asks for a number as well; ``surface`` is a surface's four corners.
    """

    key: str
    title: str
    places: tuple[str, ...]
    optional: bool = False
    many: bool = False
    length: bool = False
    surface: bool = False


KNOWN = {
    "top": ("one wing tip", "the other wing tip"),
    "side": ("the tip of the nose", "the very end of the body"),
}
FROM_ABOVE = (
    Step("nose", "Nose", ("the very tip of the nose, on the centreline (spinner left out)",)),
    Step("end", "End of the body", ("the very end of the body, on the centreline",)),
)
FROM_SIDE = (
    Step("nose", "Nose", ("the very tip of the nose (spinner left out)",)),
    Step("end", "End of the body", ("the very end of the body, half-way up it",)),
    Step("level", "Level line", (
        "the front end of the line that heights are measured from. Skip it if that line runs "
        "from the nose to the end of the body",
        "the rear end of that line"), optional=True),
)  # fmt: skip
CHECK = Step(
    "check", "A second known length, as a check",
    ("one end of another length that you measured, best across the first one",
     "its other end"), optional=True, length=True,
)  # fmt: skip
DATUM = Step(
    "datum", "Point that the file measures from",
    ("the point that your aeroplane file measures all places from. Skip it if the wing already "
     "stands where it should in the file: then its root stays there",), optional=True,
)  # fmt: skip
WORDS = {
    "wing": ("where the wing meets the body", "wing"),
    "strake": ("the front end of the strake, where it meets the body", "strake"),
    "tail": ("where the tailplane meets the body", "tailplane"),
    "canard": ("where the foreplane meets the body", "foreplane"),
    "fin": ("where the fin meets the body", "fin"),
}
BELOW = ". Of a rudder that runs on below, as high as the fin's foot: the rest is left out"
USUAL: dict[View, tuple[tuple[str, str], ...]] = {
    "top": (("wing", "wing"), ("strake", "strake"), ("tail", "tail"), ("canard", "canard")),
    "side": (("fin", "fin"),),
}


def steps_of(view: View, surfaces: Sequence[Surface] = ()) -> list[Step]:
    """Return what is to be clicked in a view; of a file's own surfaces, where they are known."""
    one, other = KNOWN[view]
    known = (f"one end of a length that you measured, the longer the better: {one}, say",
             f"its other end: {other}, say")  # fmt: skip
    out = [
        Step("known", "A known length", known, length=True), CHECK,
        *(FROM_ABOVE if view == "top" else FROM_SIDE), DATUM,
    ]  # fmt: skip
    out += [corners(name, role, view) for name, role in _seen(view, surfaces)]
    return out + (_edges_from_above() if view == "top" else _edges_from_side())


def _seen(view: View, surfaces: Sequence[Surface]) -> Sequence[tuple[str, str]]:
    if not surfaces:
        return USUAL[view]
    if view == "top":
        lies = [s for s in surfaces if abs(s.dihedral_deg) <= 90.0 - SEEN_FROM_DEG]
    else:
        lies = [s for s in surfaces if s.dihedral_deg >= SEEN_FROM_DEG]
    return [(s.name, s.role) for s in lies]


def corners(name: str, role: str, view: View) -> Step:
    """Return the four corners of a surface, in order."""
    foot, word = WORDS[role]
    side = ", right side (left side if that is seen better)" if view == "top" else ""
    tip = "top" if role == "fin" else "tip"
    below = BELOW if role == "fin" else ""
    straight = f"where the straight edges would meet, just as if the {tip} were not rounded"
    title = f"{name}: four corners" if name == role else f"{name} ({role}): four corners"
    return Step(
        name, title[0].upper() + title[1:],
        (f"{word}, root leading edge: {foot}{side}",
         f"{word}, {tip} leading edge: {straight}",
         f"{word}, {tip} trailing edge",
         f"{word}, root trailing edge, where it meets the body again{below}"),
        optional=not (name == "wing" and view == "top"), surface=True,
    )  # fmt: skip


def _edges_from_above() -> list[Step]:
    return [Step("edge", "Side of the body", (
        "along the body's right side (or left), from the nose to the very end: wherever it bends. "
        "Go on straight where the wing hides it",), optional=True, many=True)]  # fmt: skip


def _edges_from_side() -> list[Step]:
    return [
        Step("wing_root", "Wing at the body", (
            "the wing's leading edge where it meets the body: in the middle of its thickness",)),
        Step("tail_root", "Tailplane at the body", (
            "the tailplane's leading edge where it meets the body",), optional=True),
        Step("upper", "Upper edge of the body", (
            "along the top of the body, from the nose to the very end: wherever it bends; canopy "
            "and fin left out",), optional=True, many=True),
        Step("lower", "Lower edge of the body", (
            "along the bottom of the body, from the nose to the very end; wheels left out",),
            optional=True, many=True),
    ]  # fmt: skip
