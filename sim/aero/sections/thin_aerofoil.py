"""Thin-aerofoil theory: camber lines and flaps, [glauert1926], [abbott1959] ch. 4."""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

# Midpoint rule over the chordwise angle; its error on the kink of the camber line's
# second derivative is below 1e-6 of the coefficients.
STATIONS = 4000


class CamberEffect(NamedTuple):
    """What a camber line does: zero-lift and ideal angle [rad], moment about c/4."""

    zero_lift: float
    ideal: float
    moment: float


@lru_cache
def camber_effect(camber_pct: float, crest: float) -> CamberEffect:
    """Return the effect of a four-digit camber line by thin-aerofoil theory.

    A0, A1, A2 of the camber line's slope, [abbott1959] ch. 4.

    Parameters
    ----------
    camber_pct : float [% of chord]
        Height of the crest; negative for inverted camber.
    crest : float
        Its place, as a share of the chord.
    """
    theta = (np.arange(STATIONS) + 0.5) * np.pi / STATIONS
    x = 0.5 * (1.0 - np.cos(theta))
    length = np.where(x < crest, crest, 1.0 - crest)
    slope = 2.0 * (0.01 * camber_pct) / length**2 * (crest - x)
    a0 = np.mean(slope)  # 1/pi times the integral over 0..pi
    a1 = 2.0 * np.mean(slope * np.cos(theta))
    a2 = 2.0 * np.mean(slope * np.cos(2.0 * theta))
    return CamberEffect(
        zero_lift=float(a0 - 0.5 * a1), ideal=float(a0), moment=float(-0.25 * np.pi * (a1 - a2))
    )


def flap_effectiveness(chord_share: float) -> float:
    """Return tau, the turn of the zero-lift angle per radian of plain flap [-].

    Parameters
    ----------
    chord_share : float in [0, 1]
        Flap chord over section chord. tau = 1 - (theta - sin theta)/pi with
        cos theta = 2 chord_share - 1 [glauert1926].
    """
    theta = np.arccos(2.0 * chord_share - 1.0)
    return float(1.0 - (theta - np.sin(theta)) / np.pi)


def flap_share(chord_share: float) -> float:
    """Return the share of the force of angle of attack that acts on a plain flap [-].

    Parameters
    ----------
    chord_share : float in [0, 1]
        Flap chord over section chord. (theta - sin theta)/pi with
        cos theta = 1 - 2 chord_share [glauert1926].
    """
    theta = np.arccos(1.0 - 2.0 * chord_share)
    return float((theta - np.sin(theta)) / np.pi)


def flap_moment(chord_share: float) -> float:
    """Return the moment about c/4 per radian of plain flap [1/rad].

    -sin theta (1 - cos theta)/2, cos theta = 2 chord_share - 1 [glauert1926].
    """
    theta = np.arccos(2.0 * chord_share - 1.0)
    return float(-0.5 * np.sin(theta) * (1.0 - np.cos(theta)))


@lru_cache
def hinge_slopes(chord_share: float) -> tuple[float, float]:
    """Return what a radian of incidence and of deflection do to a flap's hinge moment [1/rad].

    Coefficients on the flap's own chord squared, positive where they close the flap. Thin-aerofoil
    theory [glauert1926]: pressure 4 cot(theta/2) of incidence, and of a bent plate that of its
    share (pi - h)/pi of it and (4/pi) ln|sin((theta+h)/2)/sin((theta-h)/2)|, integrated over the
    flap; cos h = 2 chord_share - 1 at the hinge.

    Parameters
    ----------
    chord_share : float in (0, 1)
        Flap chord over section chord.
    """
    hinge = np.arccos(2.0 * chord_share - 1.0)
    theta = hinge + (np.arange(STATIONS) + 0.5) / STATIONS * (np.pi - hinge)
    back = 0.5 * (1.0 - np.cos(theta)) - (1.0 - chord_share)
    step = 0.5 * np.sin(theta) * (np.pi - hinge) / STATIONS
    incidence = 4.0 / np.tan(0.5 * theta)
    bent = (np.pi - hinge) / np.pi * incidence
    bent += 4.0 / np.pi * np.log(np.sin(0.5 * (theta + hinge)) / np.sin(0.5 * (theta - hinge)))
    weight = back * step / chord_share**2
    return float(np.sum(incidence * weight)), float(np.sum(bent * weight))


class NoseFlap(NamedTuple):
    """A radian of nose down: rise of zero-lift and ideal angle [-], moment about c/4 [1/rad]."""

    zero_lift: float
    ideal: float
    moment: float


def nose_flap(chord_share: float) -> NoseFlap:
    """Return what a radian of the nose turned down does [-, 1/rad], by thin-aerofoil theory.

    A0, A1, A2 of a camber line whose slope is 1 ahead of the hinge and 0 behind it
    [abbott1959] ch. 4: ideal = theta/pi, zero lift = (theta - sin theta)/pi, moment =
    -sin theta (1 - cos theta)/2 with cos theta = 1 - 2 chord_share.

    Parameters
    ----------
    chord_share : float in [0, 1]
        Chord of the part that is turned, over section chord.
    """
    theta = float(np.arccos(1.0 - 2.0 * chord_share))
    moment = -0.5 * float(np.sin(theta) * (1.0 - np.cos(theta)))
    return NoseFlap(flap_share(chord_share), theta / np.pi, moment)


def cavity_flap(chord_share: float) -> float:
    """Return the turn of a plate under a cavity that a radian of plain flap is worth [-].

    The suction side being a cavity, lift goes with the moment about the leading edge of an
    equivalent section, chordwise places being square roots [tulin1955]: A0 + A1 - A2/2 of
    its slopes, with cos theta = 1 - 2 sqrt(1 - chord_share) at the hinge.

    Parameters
    ----------
    chord_share : float in [0, 1]
        Flap chord over section chord.
    """
    theta = np.arccos(1.0 - 2.0 * np.sqrt(1.0 - chord_share))
    turned = (np.pi - theta) + 2.0 * np.sin(theta) - 0.5 * np.sin(2.0 * theta)
    return float(turned / np.pi)
