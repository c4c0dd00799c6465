"""Coefficients in steady rotation about the direction of flight: a rotary balance by sums.

The model hangs in the air at a fixed angle of attack and sideslip and turns about its
own path, as a spin does when its radius is left out: p, q, r = Omega (cos a cos b, sin b,
sin a cos b), by definition.
"""

from dataclasses import dataclass
from math import cos, radians, sin
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core.draw_layout import ROLE_WING
from sim.core.flights.perturb import copied
from sim.core.layout import Model
from sim.core.steady.statics import polar
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled

RATES = np.linspace(-0.5, 0.5, 51)
SPEED = 15.0  # m/s; coefficients hardly depend on it
CENTRED = (0.0, 0.0, 0.0, 0.0)


class Coefficients(NamedTuple):
    """Coefficients (n,) about the balance point, body axes, on wing area, span and MAC.

    ``normal`` is upward along the body's own axis; ``about_path`` the rolling moment about
    the direction of flight, which drives the rotation where it has its sign.
    """

    normal: Floats
    side: Floats
    roll: Floats
    pitch: Floats
    yaw: Floats
    about_path: Floats


@dataclass(frozen=True)
class Rotary:
    """Coefficients against the rate of rotation omega b/2V (n,), to the right plus.

    ``whole`` is the aeroplane at the sticks given, fans or propeller as the throttle has
    them; ``wing`` the part of wings and strakes where they are; ``rest`` all else: tail,
    fins, fuselage. ``pitch_needed`` (n,) is the Cm at which the masses balance.
    """

    alpha_deg: float
    beta_deg: float
    rates: Floats
    whole: Coefficients
    wing: Coefficients
    rest: Coefficients
    pitch_needed: Floats


def without_wing(assembled: Assembled) -> Model:
    """Return the model whose wings and strakes do not push; their flow stays as it is."""
    model = copied(assembled.model)
    wings = assembled.roles[model.strip_index[k.SI_SURFACE]] == ROLE_WING
    model.strips[k.S_FORCE, wings] = 0.0
    return model


def rotary(
    assembled: Assembled,
    alpha_deg: float,
    beta_deg: float = 0.0,
    rates: Floats = RATES,
    sticks: tuple[float, float, float, float] = CENTRED,
) -> Rotary:
    """Return the coefficients at one attitude.

    Parameters
    ----------
    alpha_deg, beta_deg : float
    rates : float array (n,)
        omega b/2V, to the right plus.
    sticks : tuple
        Elevator, aileron, rudder, throttle.
    """
    whole = _loads(assembled, assembled.model, alpha_deg, beta_deg, rates, sticks)
    rest = _loads(assembled, without_wing(assembled), alpha_deg, beta_deg, rates, sticks)
    path = _path(alpha_deg, beta_deg)
    needed = _pitch_needed(assembled, alpha_deg, rates)
    parts = [_coefficients(x, path) for x in (whole, whole - rest, rest)]
    return Rotary(
        alpha_deg=alpha_deg,
        beta_deg=beta_deg,
        rates=rates,
        whole=parts[0],
        wing=parts[1],
        rest=parts[2],
        pitch_needed=needed,
    )


def _path(alpha_deg: float, beta_deg: float) -> Floats:
    """Return the direction of flight (3,) [-] in body axes, by definition of the angles [deg]."""
    alpha, beta = radians(alpha_deg), radians(beta_deg)
    return np.array([cos(alpha) * cos(beta), sin(beta), sin(alpha) * cos(beta)])


def _loads(
    assembled: Assembled,
    model: Model,
    alpha_deg: float,
    beta_deg: float,
    rates: Floats,
    sticks: tuple[float, float, float, float],
) -> Floats:
    """Return loads (n, 6) over dynamic pressure, area and span or mean chord [-]; by definition.

    Each way round is swept from standstill on, so that a lag that has two answers gives
    mirrored ones.
    """
    ref = assembled.weighed.reference
    turns = rates[:, None] * (2.0 * SPEED / ref.span_m) * _path(alpha_deg, beta_deg)
    out = np.zeros((rates.size, 6))
    for side in (rates < 0.0, rates >= 0.0):
        order = np.flatnonzero(side)[np.argsort(np.abs(rates[side]))]
        alphas = np.full(order.size, radians(alpha_deg))
        betas = np.full(order.size, radians(beta_deg))
        held = np.tile(np.array(sticks, dtype=float), (order.size, 1))
        out[order] = polar(model, SPEED, alphas, betas, np.ascontiguousarray(turns[order]), held)
    out /= 0.5 * assembled.density * SPEED**2 * ref.area_m2
    out[:, 3::2] /= ref.span_m
    out[:, 4] /= ref.mean_chord_m
    return out


def _coefficients(loads: Floats, path: Floats) -> Coefficients:
    """Return the coefficients (n,) [-] of loads.

    By definition; the moment about the path by its direction cosines.
    """
    _, side, down, roll, pitch, yaw = loads.T
    return Coefficients(
        normal=-down,
        side=side,
        roll=roll,
        pitch=pitch,
        yaw=yaw,
        about_path=roll * path[0] + yaw * path[2],
    )


def _pitch_needed(assembled: Assembled, alpha_deg: float, rates: Floats) -> Floats:
    """Return the aerodynamic Cm (n,) [-] that holds the angle of attack while it turns.

    M = -(Iz - Ix) Omega^2 sin(2 alpha) / 2, axis vertical and wings level: Euler's equation about
    y [etkin1996], with p and r as above and Ixz left out.
    """
    ref, inertia = assembled.weighed.reference, assembled.weighed.inertia_kg_m2
    turns = rates * 2.0 / ref.span_m  # per m of path
    moment = -0.5 * (inertia[2, 2] - inertia[0, 0]) * turns**2 * sin(2.0 * radians(alpha_deg))
    return np.asarray(moment / (0.5 * assembled.density * ref.area_m2 * ref.mean_chord_m))


@dataclass(frozen=True)
class SpinYaw:
    """Cn about the body's axis in a steady spin, plus with the spin, minus against it.

    Of tail and fuselage with full rudder with the spin, centred and against; ``wing`` with
    rudder with.
    """

    rudder_with: float
    centred: float
    rudder_against: float
    wing: float

    @property
    def suspicious(self) -> bool:
        """True where pro-spin controls oppose more than any steady spin was found to bear."""
        return self.rudder_with < tables.judge().no_spin_yaw


def spin_yaw(assembled: Assembled, alpha_deg: float, beta_deg: float, rate: float) -> SpinYaw:
    """Return the yawing moments [-] of a spin to the right, elevator stick held into it.

    Signs by definition: plus is with the spin, upright or inverted.

    Parameters
    ----------
    alpha_deg, beta_deg : float
        Mean angles of the spin; below 0 of ``alpha_deg`` it is inverted.
    rate : float
        omega b/2V [-].
    """
    way = 1.0 if alpha_deg >= 0.0 else -1.0  # inverted, the nose yaws the other way
    turn = np.array([rate])
    inward, centred, against = (
        rotary(assembled, alpha_deg, beta_deg, turn, (way, 0.0, way * rudder, 0.0))
        for rudder in (1.0, 0.0, -1.0)
    )
    rest = [way * float(x.rest.yaw[0]) for x in (inward, centred, against)]
    return SpinYaw(rest[0], rest[1], rest[2], way * float(inward.wing.yaw[0]))
