"""Plain flaps in viscous flow: thin-aerofoil theory times what is left of it."""

from typing import NamedTuple

import numpy as np

from sim.aero.tables import read_toml
from sim.aero.thin_aerofoil import flap_effectiveness, flap_moment


class FlapEffect(NamedTuple):
    """tau: turn of the zero-lift angle per rad of flap; delta_cm: CM about c/4 per rad."""

    tau: float
    delta_cm: float


def flap_effect(chord_share: float, deflection: float) -> FlapEffect:
    """Return the secant effect of a plain flap at a deflection.

    Parameters
    ----------
    chord_share : float in [0, 1]
        Flap chord over section chord; 1 is an all-moving section: tau 1, no moment.
    deflection : float [rad]
        Its size sets the loss, flap_effect.toml; beyond the table's end the last share.
    """
    if chord_share >= 1.0:
        return FlapEffect(1.0, 0.0)
    values = read_toml("flap_effect.toml").values
    degrees = abs(float(np.degrees(deflection)))
    share = float(np.interp(degrees, values["deflection_deg"], values["share"]))
    moment_share = float(np.interp(degrees, values["deflection_deg"], values["moment_share"]))
    return FlapEffect(
        share * flap_effectiveness(chord_share), moment_share * flap_moment(chord_share)
    )


def flap_stall_share() -> float:
    """Return the share of a flap's effect on lift that its effect on the stall angle is.

    The rest adds to the greatest lift, as plain flaps do; flap_effect.toml.
    """
    return float(read_toml("flap_effect.toml").values["stall_share"])
