"""Whether a surface lies where its role says: a foreplane ahead of the wing, a tail behind it."""

from collections.abc import Iterator
from math import radians, tan

from sim.describe.faults import Fault
from sim.describe.geometry import UPRIGHT_FROM_DEG
from sim.describe.plain import Table, number, rows

OTHER = {"tail": ("ahead of", "canard"), "canard": ("behind", "tail")}


def fore_and_aft(raw: Table) -> Iterator[Fault]:
    """Yield a fault for each lying tail ahead of the wing, foreplane behind it, second foreplane.

    Downwash is reckoned by the role. Places by the middle of quarter-chord lines; a missing or
    mistyped key is no reason to complain.
    """
    surfaces = [row for row in rows(raw, "surfaces") if _lies(row)]
    places = [_quarter_aft(row) for row in surfaces if row.get("role") == "wing"]
    wing = places[0] if places else None
    first: object = None
    for surface in surfaces:
        role, at = surface.get("role"), _quarter_aft(surface)
        if not isinstance(role, str) or role not in OTHER:
            continue
        path, (where, other) = f"surfaces.{surface.get('name')}.role", OTHER[role]
        if at is not None and wing is not None and at != wing and (at < wing) == (role == "tail"):
            text = f"is {role!r}, but its quarter chord, {at:.0f} mm aft, lies {where} the wing's, "
            yield Fault(path, f'{text}{wing:.0f} mm; give role = "{other}"')
        elif role == "canard" and first is not None:
            text = f"is a second canard beside {first!r}; the wing is flown in the flow of one only"
            yield Fault(path, f"{text}: make one surface of both")
        elif role == "canard":
            first = surface.get("name")


def _lies(surface: Table) -> bool:
    """Return True for a mirrored surface that lies; without a dihedral it does."""
    dihedral = number(surface, "dihedral_deg") if "dihedral_deg" in surface else 0.0
    return surface.get("mirrored") is True and abs(dihedral or 0.0) <= UPRIGHT_FROM_DEG


def _quarter_aft(surface: Table) -> float | None:
    """Return how far aft the middle of the quarter-chord line lies [mm]; geometry."""
    keys = ("root_aft_mm", "panel_span_mm", "root_chord_mm", "tip_chord_mm", "sweep_deg")
    values = [number(surface, key) for key in keys]
    aft, span, root, tip, sweep = values
    if aft is None or span is None or root is None or tip is None or sweep is None:
        return None
    if not abs(sweep) < 89.0:
        return None  # has its own fault
    return aft + 0.5 * span * tan(radians(sweep)) + 0.125 * (root + tip)
