"""A manoeuvre whose last controls are held on, and what the flight settles to."""

from dataclasses import dataclass, replace
from math import degrees

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core import script_layout as s
from sim.describe import Manoeuvre, load_recovery
from sim.fly.flying import Settings, fly_one
from sim.pack.assemble import Assembled

NO_BOTTOM_M = 1e6  # drop at which a held flight is given up: never
AFTERWARDS = "centre_sticks"  # a flight needs a recovery; the record ends before it


@dataclass(frozen=True)
class Ending:
    """Means over the last part of a flight with its controls held, and the swing about them.

    Turn rate about the vertical, plus to the right; ``swing_deg`` is the standard deviation
    of the angle of attack, ``height_m`` the mean height above the field.
    """

    alpha_deg: float
    swing_deg: float
    beta_deg: float
    turn_dps: float
    rates_dps: tuple[float, float, float]
    speed_mps: float
    sink_mps: float
    height_m: float


def held_on(manoeuvre: Manoeuvre, seconds: float) -> Manoeuvre:
    """Return the manoeuvre with its last phase held for so long, whatever would end it."""
    *before, last = manoeuvre.phases
    kept = last.model_copy(update={"at_least_s": seconds, "at_most_s": seconds, "until": None})
    return manoeuvre.model_copy(update={"phases": (*before, kept)})


def sharp(assembled: Assembled) -> Assembled:
    """Return the aeroplane with servos that have no dead band, so that they reach their targets.

    An equilibrium takes them there; a flight's stop short by as much as the dead band.
    """
    servos = assembled.model.servos.copy()
    servos[:, k.V_DEADBAND] = 0.0
    return replace(assembled, model=assembled.model._replace(servos=servos))


def ending_near(
    assembled: Assembled, manoeuvre: Manoeuvre, height_m: float, side: float = 1.0
) -> Ending:
    """Return what a flight settles to that ends at about a height above the field [m]."""
    drop = -ending(assembled, manoeuvre, side).height_m
    return ending(assembled, manoeuvre, side, height_m + drop)


def ending(
    assembled: Assembled, manoeuvre: Manoeuvre, side: float = 1.0, height_m: float = 0.0
) -> Ending:
    """Return what a flight settles to whose last controls are held on.

    ``side`` +1 enters to the right; ``height_m`` above the field is where it starts;
    it may end below the field, in denser air.
    """
    search = tables.spin_search()
    settings = replace(Settings.standard(), most_drop_m=NO_BOTTOM_M)
    script = held_on(manoeuvre, search.flown_s)
    flight = fly_one(assembled, script, load_recovery(AFTERWARDS), side, None, height_m, settings)
    history = flight.history
    phase = len(script.phases) - 1
    held = history[history[:, s.H_PHASE] == phase]
    last = held[-round(search.flown_last_s * settings.control_rate_hz) :]
    alpha = np.unwrap(last[:, s.H_ALPHA])
    mean = last.mean(axis=0)
    return Ending(
        alpha_deg=degrees(alpha.mean()),
        swing_deg=degrees(alpha.std()),
        beta_deg=degrees(mean[s.H_BETA]),
        turn_dps=degrees(mean[s.H_YAW]),
        rates_dps=(degrees(mean[s.H_P]), degrees(mean[s.H_Q]), degrees(mean[s.H_R])),
        speed_mps=float(mean[s.H_SPEED]),
        sink_mps=-float(mean[s.H_CLIMB]),
        height_m=float(mean[s.H_UP]),
    )
