"""A left entry mirrors a right entry where nothing in the aeroplane is lopsided."""

from dataclasses import replace

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.core.draw_layout import N_DRAW
from sim.core.layout import X_POS, X_QUAT, X_RATE, X_VEL
from sim.core.loads.thrust import U_ROTATION
from sim.describe import load_manoeuvre, load_recovery
from sim.fly.flying import fly_one

# in SI units; required of ten seconds
SAME = 1e-6

# reflection in the plane y = 0 of position, velocity, quaternion and rates
REFLECTED = np.ones(13)
REFLECTED[[X_POS + 1, X_VEL + 1, X_QUAT + 1, X_QUAT + 3, X_RATE, X_RATE + 2]] = -1.0
ODD_COLUMNS = [s.H_E, s.H_PHI, s.H_PSI, s.H_V, s.H_P, s.H_R, s.H_BETA, s.H_YAW, s.H_ROTATION]
ODD_COLUMNS += [s.H_AILERON, s.H_RUDDER]


@pytest.mark.parametrize("aft", [195.0, 215.0, 235.0])
def test_held_spins_mirror(mirrored_spins, aft):
    right, left = mirrored_spins(aft)
    one, other = right.fly(10.0)[:, :13], left.fly(10.0)[:, :13]
    assert np.abs(one[:, X_RATE + 2]).max() > 0.2  # rad/s: it did turn
    assert np.abs(one - other * REFLECTED).max() < SAME


def test_scripted_flights_mirror(jet_balanced_at):
    # the same through trim, pilot, script and judge
    jet = jet_balanced_at(215.0)
    units = jet.model.units.copy()
    units[:, U_ROTATION] = 0.0  # rotors without momentum and torque
    jet = replace(jet, model=jet.model._replace(units=units))
    scripts = load_manoeuvre("spin_entry_aileron_with"), load_recovery("rudder_forward")
    right, left = (fly_one(jet, *scripts, side=side, draw=np.zeros(N_DRAW)) for side in (1.0, -1.0))
    one, other = right.history[:1000, : s.H_SERVO], left.history[:1000, : s.H_SERVO].copy()
    other[:, ODD_COLUMNS] *= -1.0
    # angles near half a turn may come out on either side of the cut
    difference = np.abs(one - other)
    for column in (s.H_PHI, s.H_PSI):
        difference[:, column] = np.abs(np.sin(0.5 * difference[:, column]))
    assert difference.max() < SAME
    assert np.abs(one[:, s.H_YAW]).max() > 0.2
