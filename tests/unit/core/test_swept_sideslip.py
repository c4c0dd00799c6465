"""A swept wing alone in sideslip: its dihedral effect grows with the lift to the stall, then falls.

W. Letko, A. Goodman, Preliminary Wind-Tunnel Investigation at Low Speed of Stability and Control
Characteristics of Swept-Back Wings, NACA TN 1046, 1946 (from memory): with the lift coefficient as
simple sweep theory has it, then off and near maximum lift towards nought.
"""

import numpy as np
import pytest

import sim
from sim.describe import load_aeroplane

SLIP_DEG = 5.0
SWEPT = (
    "what has let go still goes by simple sweep theory in sideslip; mended alone, the jet spins at "
    "half of the least rate that is published"
)


def wing_alone(sweep_deg):
    """Return the display jet's wing without dihedral, swept, and nothing else of it."""
    jet = load_aeroplane("display_jet")
    flat = {"dihedral_deg": 0.0, "sweep_deg": sweep_deg, "root_right_mm": 0.0, "controls": ()}
    wing = tuple(s.model_copy(update=flat) for s in jet.surfaces_as("wing"))
    masses = tuple(a for a in jet.airframe if a.of in {s.name for s in wing})
    return sim.assemble(jet.model_copy(update={"surfaces": wing, "bodies": (), "airframe": masses}))


def rolled(ready, alphas):
    """Return the rolling moment per degree of sideslip (n,) at angles of attack [deg]."""
    found = sim.coefficients(ready, alpha_deg=np.array(alphas), beta_deg=SLIP_DEG)
    return found.Cl / SLIP_DEG


@pytest.mark.xfail(strict=True, reason=SWEPT)
@pytest.mark.parametrize("sweep_deg", [35.0, 40.0, 45.0])
def test_it_grows_to_the_stall_and_falls_beyond_it(sweep_deg):
    ready = wing_alone(sweep_deg)
    roll = rolled(ready, np.arange(2.0, 21.0))
    peak = int(np.argmin(roll))
    assert 2 <= peak <= 14
    assert (np.diff(roll[: peak + 1]) < 0.0).all()
    beyond = rolled(ready, [25.0, 35.0, 45.0, 60.0])
    assert np.abs(beyond).max() < 0.5 * abs(roll[peak])


@pytest.mark.xfail(strict=True, reason=SWEPT)
def test_from_above_as_from_below():
    ready = wing_alone(40.0)
    below = rolled(ready, [20.0, 30.0, 45.0])
    above = rolled(ready, [-45.0, -30.0, -20.0])
    assert np.abs(np.concatenate([above, below])).max() < 0.001


def test_a_straight_wing_has_none_to_lose():
    ready = wing_alone(0.0)
    roll = rolled(ready, [40.0, 50.0, 60.0])
    assert np.abs(roll).max() < 0.001
