"""What a surface lifts and stalls like: effective aspect ratios, sweep and Reynolds number."""

from math import atan2, degrees, pi, radians, tan

from sim import tables
from sim.aero.geometry.kinds import kind_of
from sim.aero.geometry.panels import MM, aspect_ratio, half_chord_sweep, panels_of, upright
from sim.aero.sections.finite_wing import datcom_slope
from sim.describe.geometry import Surface

AIR_VISCOSITY = 1.46e-5  # m2/s kinematic, 15 C at sea level [ussa1976]


def slope_aspect_ratio(surface: Surface) -> float:
    """Return the aspect ratio [-] that sets lift slope and stall: a fin's is raised by its body.

    The body is an end plate. A half wing on a wall both lifts and stalls as the whole wing
    does: surfaces on a ground board stall by their effective aspect ratio [whicker1958].

    A lying plate's is that of its panels joined, what the body does to it being in the
    strip that carries it through: a panel turned against the body, which stays, gains about
    what it would alone, in incidence (1 + r/s)^2 of it with the body's part [pitts1957].
    """
    values = tables.strip_model()
    if not upright(surface):
        whole = aspect_ratio(surface)
        return aspect_ratio_alone(surface) if kind_of(surface) == "plate" else whole
    single, twin = values.single_fin_aspect_factor, values.twin_fin_aspect_factor
    return aspect_ratio(surface) * (twin if surface.mirrored else single)


def unswept_aspect_ratio(surface: Surface) -> float:
    """Return the aspect ratio [-] of the straight surface with the same lift slope.

    DATCOM's slope with sweep [datcom1978] 4.1.3.2, put through Helmbold's formula
    [helmbold1942] backwards: AR = 8 pi a/(4 pi^2 - a^2).
    """
    sweep = half_chord_sweep(panels_of(surface)[0])
    slope = datcom_slope(slope_aspect_ratio(surface), sweep)
    return 8.0 * pi * slope / (4.0 * pi**2 - slope**2)


def aspect_ratio_alone(surface: Surface) -> float:
    """Return b²/S [-] of the panels joined at their roots, as a strake off its body; geometry."""
    mean = 0.5 * (surface.root_chord_mm + surface.tip_chord_mm)
    return 2.0 * surface.panel_span_mm / mean


def elliptic_induced(ratio: float) -> float:
    """Return the induced angle per lift coefficient [rad] of an elliptic wing.

    1/(pi AR) [anderson2011].
    """
    return 1.0 / (pi * ratio)


def edge_sweep(surface: Surface, surfaces: tuple[Surface, ...]) -> float:
    """Return the leading-edge sweep [deg] that separated flow over a surface answers to.

    Geometry: its own; a wing behind a strake is one plan form with it, as swept as the line from
    the strake's apex on the centreline to the wing's tip.
    """
    strake = next((s for s in surfaces if s.role == "strake"), None)
    if strake is None or surface.role != "wing" or upright(surface):
        return surface.sweep_deg
    tip = surface.root_right_mm + surface.panel_span_mm
    aft = surface.root_aft_mm + surface.panel_span_mm * tan(radians(surface.sweep_deg))
    joined = degrees(atan2(aft - strake.root_aft_mm, tip))
    return max(surface.sweep_deg, joined)


def mean_reynolds(surface: Surface, speed: float) -> float:
    """Return the Reynolds number on the mean chord at a speed [m/s]. By definition."""
    mean = 0.5 * (surface.root_chord_mm + surface.tip_chord_mm) * MM
    return speed * mean / AIR_VISCOSITY
