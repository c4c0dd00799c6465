"""Servos: first-order lag, rate limit and end stops; the speed controller's slew."""

from sim.core import kernel


@kernel
def servo_rate(position, target, rate, lag, least, most):
    """Return the rate [rad/s] of a servo-driven surface at ``position`` [rad].

    The rest are columns V_RATE, V_LAG, V_MIN and V_MAX of the servo array. The target is
    clipped to the end stops, so the position never passes them.

    Common practice, no source: a first-order lag with a rate limit.
    """
    goal = min(most, max(least, target))
    return min(rate, max(-rate, (goal - position) / lag))


@kernel
def duty_rate(duty, demand, full_sweep):
    """Return the rate [1/s] at which a controller's duty follows the throttle stick.

    A slew limit of one full range per ``full_sweep`` seconds, rounded off within 2 %
    of the demand so that the rate has no jump.

    ``full_sweep`` [s]. Own: the slope of 50 a unit rounds the corner, numerical only.
    """
    return min(1.0, max(-1.0, (demand - duty) * 50.0)) / full_sweep
