"""The thrust that level flight takes, at any speed, whatever the power can give."""

import numpy as np

from sim.core.layout import Model
from sim.core.loads import thrust
from sim.core.steady.linear import trimmed_state
from sim.core.steady.trim import T_THROTTLE
from sim.power.operating_point import operating_point
from sim.power.packing import PowerArrays

GOOD = 1e-3  # m/s2; a trim with more than this left over was not found
STRONGER = 4.0  # times the voltage and the current limit, so that power is never what is lacking


def power_of(model: Model) -> PowerArrays:
    """Return the power arrays of a model."""
    return PowerArrays(model.units, model.prop_table, model.pack)


def thrust_required(model: Model, speeds_mps: np.ndarray, rho: float) -> np.ndarray:
    """Return the net thrust (n,) [N] that holds level flight at speeds (n,); NaN where none does.

    Own: trimmed with all controls as in flight, on a pack and motors so strong that power is
    never short; the thrust is what the power so trimmed gives straight ahead at that speed, the
    drag of taking in the air taken off. It hangs on the strength through the rotor's speed
    alone, of which thrust is what is left.

    Parameters
    ----------
    model : Model
        As assembled; not changed.
    rho : float [kg/m³]
    """
    units, pack = model.units.copy(), model.pack.copy()
    units[:, thrust.U_CURRENT_LIMIT] *= STRONGER
    pack[thrust.PACK_VOLTAGE] *= STRONGER
    strong = model._replace(units=units, pack=pack)
    out = np.full(len(speeds_mps), np.nan)
    for i, speed in enumerate(speeds_mps):
        _, z, error = trimmed_state(strong, float(speed))
        if error < GOOD:
            point = operating_point(power_of(strong), float(z[T_THROTTLE]), float(speed), rho)
            out[i] = point.net_thrust_n
    return out
