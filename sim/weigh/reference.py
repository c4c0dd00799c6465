"""Reference lengths and area of the wing, and the extent of the whole aeroplane."""

import math
from dataclasses import dataclass

from sim.describe import Aeroplane, Surface


@dataclass(frozen=True)
class Reference:
    """What coefficients and balance points are referred to.

    Parameters
    ----------
    area_m2 : float
        Wing area seen from above, with the part between the root chords.
    span_m : float
        Tip to tip, seen from above.
    mean_chord_m : float
        Mean aerodynamic chord (MAC).
    mean_chord_aft_m : float
        Its leading edge, aft of the datum.
    length_m : float
        Nose to tail of all bodies and surfaces.
    """

    area_m2: float
    span_m: float
    mean_chord_m: float
    mean_chord_aft_m: float
    length_m: float

    @property
    def aspect_ratio(self) -> float:
        """Span squared over area [-]; by definition."""
        return self.span_m**2 / self.area_m2

    def pct_mac(self, aft_m: float) -> float:
        """Return a place aft of the datum [m] as a share of the mean chord [%]. By definition."""
        return 100.0 * (aft_m - self.mean_chord_aft_m) / self.mean_chord_m

    def aft_m(self, pct_mac: float) -> float:
        """Return the place aft of the datum [m] at a share of the mean chord [%].

        By definition.
        """
        return self.mean_chord_aft_m + pct_mac / 100.0 * self.mean_chord_m


def reference(aeroplane: Aeroplane) -> Reference:
    """Return the reference area [m²], span and mean chord [m] of the ``role = "wing"`` surfaces.

    With half-span coordinate y: MAC = ∫c² dy / ∫c dy and its leading edge lies at
    ∫c·x_LE dy / ∫c dy (by definition; [nelson1998] app. B, from memory), integrated exactly
    over each straight-tapered panel. Between the centreline and the innermost root the root
    chord is carried on.
    """
    wings = aeroplane.surfaces_as("wing")
    innermost = min(wings, key=lambda wing: wing.root_right_mm)
    pieces = [_panel(wing) for wing in wings] + [_centre(innermost)]
    half_area = sum(piece[0] for piece in pieces)
    tips = [_tip_right(wing) for wing in wings]
    nose, tail = _extent(aeroplane)
    return Reference(
        area_m2=2e-6 * half_area,
        span_m=2e-3 * max(tips),
        mean_chord_m=1e-3 * sum(piece[1] for piece in pieces) / half_area,
        mean_chord_aft_m=1e-3 * sum(piece[2] for piece in pieces) / half_area,
        length_m=1e-3 * (tail - nose),
    )


def _tip_right(wing: Surface) -> float:
    """Return how far right of the centreline a wing's tip lies [mm]; geometry."""
    return wing.root_right_mm + wing.panel_span_mm * math.cos(math.radians(wing.dihedral_deg))


def _panel(wing: Surface) -> tuple[float, float, float]:
    """Return ∫c dy [mm²], ∫c² dy and ∫c x_LE dy [mm³] of a panel; geometry."""
    # ∫c dy, ∫c² dy and ∫c x_LE dy, with c and x_LE linear in y
    root, tip = wing.root_chord_mm, wing.tip_chord_mm
    width = _tip_right(wing) - wing.root_right_mm
    drop = wing.panel_span_mm * math.tan(math.radians(wing.sweep_deg))
    area = width * (root + tip) / 2.0
    square = width * (root**2 + root * tip + tip**2) / 3.0
    edge = area * wing.root_aft_mm + width * drop * (root + 2.0 * tip) / 6.0
    return area, square, edge


def _centre(wing: Surface) -> tuple[float, float, float]:
    """Return the same three [mm², mm³, mm³] between centreline and root; geometry."""
    area = wing.root_right_mm * wing.root_chord_mm
    return area, area * wing.root_chord_mm, area * wing.root_aft_mm


def _extent(aeroplane: Aeroplane) -> tuple[float, float]:
    """Return nose and tail of all bodies and surfaces [mm aft of the datum]; geometry."""
    places = [s.aft_mm for body in aeroplane.bodies for s in body.stations]
    for surface in aeroplane.surfaces:
        tip = surface.root_aft_mm + surface.panel_span_mm * math.tan(
            math.radians(surface.sweep_deg)
        )
        places += [surface.root_aft_mm, surface.root_aft_mm + surface.root_chord_mm]
        places += [tip, tip + surface.tip_chord_mm]
    return min(places), max(places)
