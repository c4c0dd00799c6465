"""A propeller by blade elements: coefficients from flying backwards to standing still in air.

Each element's induced velocity is normal to its own relative velocity and carries the
angular momentum of the lift's circulation, with Prandtl's tip factor F:
v_t = B Gamma / (4 pi r F). That is the classical blade-element momentum theory for light
loading [glauert1935]. Velocities that keep (v_a, v_t) normal to W lie on a circle whose
angle psi is the only unknown; one bracketed root for each element, whatever the advance.
"""

import math
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core.loads import thrust
from sim.describe.power import Propeller, PropellerUnit
from sim.power.blade_section import rotation_share, section_coefficients

# resolution, not physics: elements along the blade, points in V / (|V| + nD), bisections
N_ELEMENTS = 30
N_ADVANCE = 161
N_BISECTIONS = 48
KEPT = 32


class Blade(NamedTuple):
    """A blade in elements of equal width, lengths in diameters.

    radius, chord, pitch_angle : (N_ELEMENTS,) arrays [D], [D], [rad]; the angle is that of the
    flat face; width [D]; blades.
    """

    radius: np.ndarray
    chord: np.ndarray
    pitch_angle: np.ndarray
    width: float
    blades: int


@dataclass(frozen=True)
class _Question:
    """A propeller; two are the same question whose blades have the same shape."""

    shape: tuple[object, ...]
    unit: PropellerUnit = field(compare=False)


def blade_elements(unit: PropellerUnit) -> Blade:
    """Cut a blade into elements, from the innermost radius given to the tip.

    Geometry, lengths in diameters [D]: a helix of one pitch, tan(angle) = pitch / (2 pi r).
    """
    inner, tip = unit.radii_pct[0] / 200.0, 0.5
    width = (tip - inner) / N_ELEMENTS
    radius = inner + width * (np.arange(N_ELEMENTS) + 0.5)
    chord = np.interp(radius * 200.0, unit.radii_pct, unit.chord_pct_of_diameter) / 100.0
    pitch = unit.pitch_mm / unit.diameter_mm
    return Blade(radius, chord, np.arctan(pitch / (2.0 * math.pi * radius)), width, unit.blades)


def element_forces(
    blade: Blade, w_axial: np.ndarray, w_turn: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Return thrust and drag against rotation of one blade, each / (rho dr) [m³/s²], D = 1.

    Lift and drag of the section [glauert1935] turned into the axes of the disc.
    """
    phi = np.arctan2(w_axial, w_turn)
    turned = rotation_share(blade.chord / blade.radius, np.cos(phi))
    cl, cd = section_coefficients(blade.pitch_angle - phi, turned)
    pressure = 0.5 * (w_axial**2 + w_turn**2) * blade.chord
    return (
        pressure * (cl * np.cos(phi) - cd * np.sin(phi)),
        pressure * (cl * np.sin(phi) + cd * np.cos(phi)),
    )


def relative_velocities(blade: Blade, axial: np.ndarray, turn: np.ndarray) -> tuple:
    """Return the axial and turning velocities each element meets, induction included.

    The circulation of the lift is what the swirl behind asks, v_t = B Gamma / (4 pi r F), with
    Prandtl's F = 2/pi arccos exp(-B (R - r) / (2 r sin phi)) [glauert1935], from memory. Own: the
    choice of root where air comes from behind.

    Parameters
    ----------
    axial, turn : (k, N_ELEMENTS) arrays [m/s]
        Undisturbed velocities; turn not negative.
    """
    total = np.hypot(axial, turn)
    r, tip = blade.radius, 0.5

    def velocities(psi: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        return 0.5 * (axial + total * np.sin(psi)), 0.5 * (turn + total * np.cos(psi))

    def excess(psi: np.ndarray) -> np.ndarray:
        w_axial, w_turn = velocities(psi)
        speed = np.hypot(w_axial, w_turn)
        sine = np.maximum(np.abs(w_axial) / np.maximum(speed, 1e-9), 1e-3)
        f = 0.5 * blade.blades * (tip - r) / (r * sine)
        tip_factor = 2.0 / math.pi * np.arccos(np.exp(-f))
        turned = rotation_share(blade.chord / r, w_turn / np.maximum(speed, 1e-9))
        cl, _ = section_coefficients(blade.pitch_angle - np.arctan2(w_axial, w_turn), turned)
        swirl = (turn - w_turn) * np.sign(w_axial)
        shed = swirl * 4.0 * math.pi * r / blade.blades * tip_factor
        return 0.5 * speed * blade.chord * cl - shed

    # Zero induction is psi0. Flow from behind (psi0 < 0) has a root of small induction
    # below psi = 0 while it is fast; slow, it is pushed back as at standstill.
    psi0 = np.abs(np.arctan2(axial, turn))
    fast_from_behind = (axial < 0.0) & (excess(np.zeros_like(total)) < 0.0)
    low = np.where((axial < 0.0) & ~fast_from_behind, psi0, -psi0 + 1e-6)
    high = np.where(fast_from_behind, 0.0, 0.5 * math.pi)
    for _ in range(N_BISECTIONS):
        middle = 0.5 * (low + high)
        up = excess(middle) > 0.0
        low, high = np.where(up, middle, low), np.where(up, high, middle)
    return velocities(0.5 * (low + high))


def propeller_table(unit: PropellerUnit) -> np.ndarray:
    """Return a propeller's coefficients for the kernel, (N_ADVANCE, 4); see `blade_table`.

    Kept for the next set-up, fit or draw with the same blades; the array is the asker's own.
    """
    shape = unit.radii_pct, unit.chord_pct_of_diameter
    return _kept(_Question((*shape, unit.pitch_mm, unit.diameter_mm, unit.blades), unit)).copy()


@lru_cache(maxsize=KEPT)
def _kept(question: _Question) -> np.ndarray:
    return blade_table(blade_elements(question.unit))


def blade_table(blade: Blade) -> np.ndarray:
    """Return the coefficients of a blade for the kernel, (N_ADVANCE, 4).

    Uniform in V / (|V| + nD) from -1 to 1; with W² = V² + (nD)²: thrust / (rho D² W²),
    torque / (rho D³ W²), and per in-plane speed normal force / (rho D² W) and sway moment
    / (rho D³ W), all [-]. The last two: a hub moving sideways adds to one blade's turning speed
    and takes from the other's; with the wake frozen, half the blades' derivatives remain on
    average (Glauert's stability derivatives of an airscrew [glauert1919]). Uncertain by
    40 % (judgement). With V < 0 the ring vortex is not modelled: a rough guess.
    """
    coordinate = np.linspace(-1.0, 1.0, N_ADVANCE)[:, None]
    turn_speed = 1.0 - np.abs(coordinate)
    axial = coordinate * np.ones_like(blade.radius)
    turn = 2.0 * math.pi * turn_speed * blade.radius
    w_axial, w_turn = relative_velocities(blade, axial, turn)
    push, drag = element_forces(blade, w_axial, w_turn)
    step = tables.propeller_section().azimuth_step_share * np.hypot(w_axial, w_turn) + 1e-9
    push_more, drag_more = element_forces(blade, w_axial, w_turn + step)
    push_less, drag_less = element_forces(blade, w_axial, w_turn - step)
    count = blade.blades * blade.width
    speed = np.hypot(coordinate, turn_speed)[:, 0]
    table = np.empty((N_ADVANCE, thrust.N_PROP_COLS))
    table[:, thrust.PROP_THRUST] = count * push.sum(axis=1) / speed**2
    table[:, thrust.PROP_TORQUE] = count * (drag * blade.radius).sum(axis=1) / speed**2
    drag_slope = (drag_more - drag_less) / (2.0 * step)
    push_slope = (push_more - push_less) / (2.0 * step)
    table[:, thrust.PROP_NORMAL] = 0.5 * count * drag_slope.sum(axis=1) / speed
    table[:, thrust.PROP_SWAY] = 0.5 * count * (push_slope * blade.radius).sum(axis=1) / speed
    return table


def thrust_and_power(table: np.ndarray, advance: float) -> tuple[float, float]:
    """Return C_T = T/(rho n² D⁴) and C_P = P/(rho n³ D⁵) [-] at an advance ratio J = V/(nD).

    By definition, from the table's coefficients on W² = V² + (nD)².
    """
    coefficients = thrust.propeller_coefficients(table, advance, 1.0)
    speed2 = 1.0 + advance * advance
    ct, cq = coefficients[thrust.PROP_THRUST], coefficients[thrust.PROP_TORQUE]
    return ct * speed2, 2.0 * math.pi * cq * speed2


def propeller_columns(propeller: Propeller, unit: PropellerUnit) -> np.ndarray:
    """Return a propeller's row for the kernel [m], places from the datum; motor columns zero.

    Geometry: the axis tilted down, then to the side.
    """
    row = np.zeros(thrust.N_UNIT_COLS)
    down, side = math.radians(propeller.thrust_tilt_deg), math.radians(propeller.side_tilt_deg)
    hub = np.array([-propeller.aft_mm, propeller.right_mm, -propeller.up_mm]) / 1000.0
    row[thrust.U_KIND] = thrust.PROPELLER
    row[thrust.U_INLET_X : thrust.U_INLET_Z + 1] = hub
    row[thrust.U_EXIT_X : thrust.U_EXIT_Z + 1] = hub
    row[thrust.U_AXIS_X : thrust.U_AXIS_Z + 1] = (
        math.cos(down) * math.cos(side),
        math.cos(down) * math.sin(side),
        math.sin(down),
    )
    row[thrust.U_DIAMETER] = unit.diameter_mm / 1000.0
    return row
