"""What stands between a turn and its surface: filter, delay, frames, hold; and the open loop.

A turn is read once a frame, smoothed, passed on late, multiplied by the gain and held until the
next frame; the servo's lag belongs to `sim.gyro.motion`, as its speed limit and dead band do,
which are not linear and in no margin.
"""

from dataclasses import dataclass

import numpy as np

from sim import tables
from sim.describe.controls import Gyro
from sim.fly.columns import Floats
from sim.gyro.motion import AXES, Complexes


@dataclass(frozen=True)
class Loop:
    """Times of a gyro [s], and how hard it holds an angle [1/s] (nought in rate mode).

    ``assumed``: no file says so, they are those of gyro_loop.toml.
    """

    filter_s: float
    delay_s: float
    frame_s: float
    hold_per_s: float
    assumed: bool

    def response(self, omegas: Floats) -> Complexes:
        """Return surface asked for over rate, at a gain of one, (m,) [-] at [rad/s].

        First-order lag, exp(-j omega T) of a pure delay, not a fraction that stands for it, and
        the hold of a sampled signal, (1 - exp(-j omega T))/(j omega T): [astrom2008]. Own: the
        hold mode's integral beside the rate.
        """
        s = 1j * omegas
        frames = s * self.frame_s
        held = -np.expm1(-frames) / frames if self.frame_s > 0.0 else 1.0
        late = np.exp(-s * self.delay_s) / (1.0 + s * self.filter_s)
        out: Complexes = held * late * (1.0 + self.hold_per_s / s)
        return out

    def slower(self, share: float) -> "Loop":
        """Return the loop with its delay longer by a share [-] of it; own: as drawn."""
        late = self.delay_s * (1.0 + share)
        return Loop(self.filter_s, late, self.frame_s, self.hold_per_s, self.assumed)


def loop_of(gyro: Gyro | None) -> Loop:
    """Return the loop of a gyro; of none, one as it is usual.

    Frames are the flight's control ticks [s], by definition.
    """
    values = tables.gyro_loop()
    frame = 1.0 / tables.flight().control_rate_hz
    if gyro is None:
        return Loop(values.default_filter_s, values.default_delay_s, frame, 0.0, True)
    hold = tables.control_model().hold_per_s if gyro.mode == "hold" else 0.0
    return Loop(gyro.filter_s, gyro.delay_s, frame, hold, False)


def open_loop(rates: Complexes, axis: int, others: Floats) -> Complexes:
    """Return one axis' loop at a gain of one (m,) [-], the other axes' loops closed.

    [astrom2008], from memory: P_jj - P_jo (I + K P_oo)^-1 K P_oj, negative feedback.

    Parameters
    ----------
    rates : complex array (m, 3, 3)
        Rates over surface, the gyro's own response within.
    axis : int
    others : float array (3,)
        Gains of all axes; that of ``axis`` is not looked at.
    """
    first, second = (j for j in range(len(AXES)) if j != axis)
    out: Complexes = rates[:, axis, axis]
    k1, k2 = float(others[first]), float(others[second])
    if k1 == k2 == 0.0:
        return out
    # [a b; c d] = I + K P_oo, its inverse by Cramer's rule
    a, b = 1.0 + k1 * rates[:, first, first], k1 * rates[:, first, second]
    c, d = k2 * rates[:, second, first], 1.0 + k2 * rates[:, second, second]
    fed1, fed2 = k1 * rates[:, first, axis], k2 * rates[:, second, axis]
    through = rates[:, axis, first] * (d * fed1 - b * fed2)
    through = through + rates[:, axis, second] * (a * fed2 - c * fed1)
    return out - through / (a * d - b * c)
