"""Which limits of servos and structure a set-up's flights came near or passed."""

from sim import tables
from sim.study.results.structure import ServoNeed, Structure


def servo_near(servo: ServoNeed) -> bool:
    """Tell whether a servo had to give more of its torque than is good practice, or all of it."""
    share = servo.share
    return (share is not None and share > tables.servo_loads().near_share) or servo.held_flights > 0


def within_limits(structure: Structure) -> bool:
    """Tell whether load, speed, bending and every servo with a torque stayed within limits."""
    return not (
        structure.over_g
        or structure.over_mps
        or structure.bending_over
        or any(servo_near(x) for x in structure.servos)
    )
