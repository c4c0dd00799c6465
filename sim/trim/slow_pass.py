"""A slow pass at a high angle of attack: how fast it is, and the thrust that holds it level."""

from dataclasses import dataclass
from math import cos, radians, sin, tan

import numpy as np

from sim.core import layout as k
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.steady.statics import polar
from sim.pack.assemble import Assembled
from sim.power.operating_point import operating_point
from sim.trim.trimming import balancing_stick


@dataclass(frozen=True)
class SlowPass:
    """Level flight held at an angle of attack [deg]: its airspeed [m/s] and net thrust [N]."""

    alpha_deg: float
    speed_mps: float
    thrust_n: float


def slow_pass(assembled: Assembled, alpha_deg: float) -> SlowPass:
    """Return the slow pass at an angle of attack [deg].

    Own: weight and drag balanced along and across the flight path, thrust T along the body,
    q (C_L + C_D tan alpha) = W and T cos alpha = q C_D. Loads are those without power, taken at
    the stall speed, the elevator where it balances pitch or at its nearer stop; the slipstream of
    a propeller over wing and tail is left out, so is the turn of a fan's air at its inlet.
    """
    speed, alpha = assembled.stall.speed_mps, radians(alpha_deg)
    stick = balancing_stick(assembled, alpha, speed)
    rest = np.zeros(1)
    sticks = np.array([[stick, 0.0, 0.0, 0.0]])
    loads = polar(assembled.model, speed, np.array([alpha]), rest, np.zeros((1, 3)), sticks)
    # what stands in the stream without power drags too, and is no part of the airframe's
    stopped = operating_point(assembled.power, 0.0, speed, assembled.density).net_thrust_n
    along, normal = loads[0, 0] - stopped, loads[0, 2]
    lift = along * sin(alpha) - normal * cos(alpha)
    drag = -along * cos(alpha) - normal * sin(alpha)
    weight = float(assembled.model.mass[k.M_MASS]) * STANDARD_GRAVITY
    share = weight / (lift + drag * tan(alpha))  # of the dynamic pressure at the stall
    return SlowPass(alpha_deg, speed * float(np.sqrt(share)), share * drag / cos(alpha))
