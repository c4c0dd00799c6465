"""Whether a recovery hangs in a deep stall: followed tick by tick, in flight and afterwards."""

from sim.core import kernel
from sim.core.script_layout import (
    J_HANG_ALPHA,
    J_HANG_MEAN,
    J_HANG_MOST_ALPHA,
    J_HANG_STICK,
    J_LEVEL_PATH,
    J_SPIN_RATE,
    W_ALPHA,
    W_HUNG,
    W_STICK,
    W_TURN,
)


@kernel
def follow(watch, recovering, alpha, yaw, path, stick, stall, judge, dt):
    """Update the watch (N_WATCH,) by one tick; return how long it has hung without a break [s].

    It hangs while a recovery is tried, it sinks, and angle of attack, turn about the vertical
    and elevator stick, all smoothed, are those of a deep stall: stalled, between the judge's
    angles, turning slower than a spin, the stick not what holds it there. A swing may take it
    below the stall for a moment, but not through nought.

    Parameters
    ----------
    recovering : bool
        Whether the first recovery input has been made.
    alpha, yaw, path, stick : float
        Angle of attack [rad], turn about the vertical [rad/s], flight path [rad], elevator
        stick (+1 full aft).
    stall : float
        Angle of attack of the stall [rad].
    """
    blend = dt / (judge[J_HANG_MEAN] + dt)
    watch[W_ALPHA] += blend * (alpha - watch[W_ALPHA])
    watch[W_TURN] += blend * (yaw - watch[W_TURN])
    watch[W_STICK] += blend * (stick - watch[W_STICK])
    size = abs(watch[W_ALPHA])
    into = watch[W_STICK] if watch[W_ALPHA] > 0.0 else -watch[W_STICK]
    hangs = recovering and path < judge[J_LEVEL_PATH] and alpha * watch[W_ALPHA] > 0.0
    hangs = hangs and max(stall, judge[J_HANG_ALPHA]) < size < judge[J_HANG_MOST_ALPHA]
    hangs = hangs and abs(watch[W_TURN]) < judge[J_SPIN_RATE] and into < judge[J_HANG_STICK]
    watch[W_HUNG] = watch[W_HUNG] + dt if hangs else 0.0
    return watch[W_HUNG]
