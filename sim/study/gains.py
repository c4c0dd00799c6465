"""What a balance point costs and gives: cruise trim, flight time, pitch response."""

from math import degrees

import numpy as np

from sim.core import layout as k
from sim.core.steady.statics import polar
from sim.pack.assemble import Assembled
from sim.power.operating_point import operating_point
from sim.study.results.set_up import TrimLine
from sim.trim.performance import minutes_at
from sim.trim.trimming import level


def trim_line(assembled: Assembled, speed_mps: float) -> TrimLine:
    """Return level flight of a set-up at a speed, and how sharply full aft stick pitches it."""
    trim = level(assembled, speed_mps)
    point = operating_point(assembled.power, trim.throttle, speed_mps, assembled.density)
    sticks = np.array([[1.0, 0.0, 0.0, trim.throttle]])
    alpha = np.radians([trim.alpha_deg])
    loads = polar(assembled.model, speed_mps, alpha, np.zeros(1), np.zeros((1, 3)), sticks)
    pitch = loads[0, 4] / assembled.model.mass[k.M_INERTIA + 4]
    current = point.current_a
    return TrimLine(
        speed_mps=speed_mps,
        found=trim.found,
        alpha_deg=trim.alpha_deg,
        tail_deg=trim.tail_deg,
        throttle=trim.throttle,
        current_a=current,
        minutes=minutes_at(assembled, current),
        pitch_response_dps2=degrees(pitch),
        descent_deg=None if assembled.aeroplane.has_motor else trim.descent_deg,
    )
