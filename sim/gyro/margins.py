"""The highest gain of a loop that keeps a gain margin and a phase margin, from its response."""

from dataclasses import dataclass
from math import inf, nan

import numpy as np

from sim import tables
from sim.fly.columns import Floats
from sim.gyro.motion import Complexes

FINER = 8  # points put between two of a response, on straight lines of log size and angle


@dataclass(frozen=True)
class Margins:
    """Margins asked for: a gain as a factor, a phase [rad]."""

    gain: float
    phase_rad: float

    @staticmethod
    def asked(limit_speed: bool = False) -> "Margins":
        """Return those of gyro_loop.toml: of speeds that are flown, or up to the limit speed.

        Decibels to a factor [-] by definition, 10^(dB/20).
        """
        t = tables.gyro_loop()
        decibels = t.limit_gain_margin_db if limit_speed else t.gain_margin_db
        degrees = t.limit_phase_margin_deg if limit_speed else t.phase_margin_deg
        return Margins(10.0 ** (decibels / 20.0), float(np.radians(degrees)))


@dataclass(frozen=True)
class Most:
    """The most gain of a loop: what keeps the margins, and where it would begin to swing.

    ``crossing_rps`` is where it swings at its ``swings`` gain [rad/s]; NaN if it never does.
    """

    kept: float
    swings: float
    crossing_rps: float


def frequencies(frame_s: float) -> Floats:
    """Return the frequencies looked at (m,) [rad/s].

    Up to half the frame rate, pi/T, where a sampled loop ends [astrom2008].
    """
    t = tables.gyro_loop()
    return np.geomspace(t.slowest_rps, np.pi / frame_s, t.frequencies)


def _finer(omegas: Floats, loop: Complexes) -> tuple[Floats, Floats, Floats]:
    """Return frequencies [rad/s], log size and angle beyond -180 degrees [rad], closer together.

    Own: straight lines between points, in log frequency.
    """
    at = np.arange(omegas.size)
    fine = np.linspace(0.0, omegas.size - 1.0, FINER * (omegas.size - 1) + 1)
    size = np.interp(fine, at, np.log(np.abs(loop) + 1e-300))
    angle = np.interp(fine, at, np.unwrap(np.angle(loop)))
    log = np.interp(fine, at, np.log(omegas))
    return np.exp(log), size, (angle + 2.0 * np.pi) % (2.0 * np.pi) - np.pi


def most_gain(omegas: Floats, loop: Complexes, margins: Margins) -> Most:
    """Return the most gain [1 over the loop's unit] that keeps the margins at it and below it.

    [astrom2008]: a loop L swings on its own where K L = -1. So 1/K is the largest size at an angle
    of -180 degrees; with the gain margin that much less; and no size of one is met within the
    phase margin of that angle. Holds where nothing faster than ``omegas`` begin is unstable
    at a gain of nought.

    Parameters
    ----------
    omegas : float array (m,)
        Rising [rad/s].
    loop : complex array (m,)
        Of negative feedback, at a gain of one.
    margins : Margins
    """
    fine, size, beyond = _finer(omegas, loop)
    jump = (beyond[1:] * beyond[:-1] <= 0.0) & (np.abs(beyond[1:] - beyond[:-1]) < np.pi)
    crossed = np.flatnonzero(jump)
    swings, where = inf, nan
    if crossed.size:
        highest = np.maximum(size[crossed], size[crossed + 1])
        swings = float(np.exp(-highest.max()))
        where = float(fine[crossed[highest.argmax()]])
    near = size[np.abs(beyond) < margins.phase_rad]
    kept = min(swings / margins.gain, float(np.exp(-near.max())) if near.size else inf)
    return Most(kept, swings, where)


def delay_margin(omegas: Floats, loop: Complexes, gain: float) -> tuple[float, float]:
    """Return (phase margin [rad], delay margin [s]) of a loop at a gain; inf where none is met.

    [astrom2008]: the angle left to -180 degrees where the size is one, and that over the
    frequency; the least over all such places.
    """
    fine, size, beyond = _finer(omegas, loop)
    size = size + np.log(gain) if gain > 0.0 else size - inf
    met = np.flatnonzero((size[1:] > 0.0) != (size[:-1] > 0.0))
    if not met.size:
        return inf, inf
    late = np.where(beyond[met] >= 0.0, beyond[met], beyond[met] + 2.0 * np.pi)
    return float(np.abs(beyond[met]).min()), float((late / fine[met]).min())
