"""Which servos a set-up's flights brought near their torque."""

from sim import tables
from sim.study.results.structure import ServoNeed


def servo_near(servo: ServoNeed) -> bool:
    """Tell whether a servo had to give more of its torque than is good practice, or all of it."""
    share = servo.share
    return (share is not None and share > tables.servo_loads().near_share) or servo.held_flights > 0
