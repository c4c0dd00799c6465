"""Which angle of attack is the stall: a cambered wing has another one inverted."""

from sim.core import kernel
from sim.core.layout import E_STALL_ALPHA, E_STALL_INVERTED


@kernel
def stall_angle(env, alpha):
    """Return the size of the stall's angle of attack [rad] on the side of ``alpha``."""
    return env[E_STALL_ALPHA] if alpha >= 0.0 else env[E_STALL_INVERTED]
