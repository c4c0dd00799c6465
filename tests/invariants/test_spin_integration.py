"""The kernel's integrator against an independent one on the same right-hand side, in spins."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from sim.core.layout import X_POS, X_VEL
from sim.core.motion.derivative import derivative

SECONDS = 10.0
ALPHA_DEG = 0.05  # required: angle of attack within this
HEIGHT_M = 0.01  # and height within this

# balance point [mm aft], time into the held controls at which the ten seconds begin: an
# entry from trimmed flight with its departure; a developed steep spin; a flatter one
STARTS = [(195.0, 0.0), (215.0, 2.0), (225.0, 4.0)]


def alpha_deg(states):
    return np.degrees(np.unwrap(np.arctan2(states[:, X_VEL + 2], states[:, X_VEL])))


def assert_same_flight(one, other):
    # the turn of the air's direction: the angle itself means nothing where it comes from the side
    across = np.hypot(other[:, X_VEL], other[:, X_VEL + 2])
    share = across / np.linalg.norm(other[:, X_VEL : X_VEL + 3], axis=1)
    assert (share * np.abs(alpha_deg(one) - alpha_deg(other))).max() < ALPHA_DEG
    assert np.abs(one[:, X_POS + 2] - other[:, X_POS + 2]).max() < HEIGHT_M


@pytest.fixture(scope="module", params=STARTS, ids=lambda p: f"{p[0]:g}mm-{p[1]:g}s")
def spin_flight(request, spin_at):
    """A spin, where its ten seconds start, and its states at the default step."""
    aft, wait = request.param
    spin = spin_at(aft)
    start = spin.fly(wait)[-1]
    return spin, start, spin.fly(SECONDS, x=start)


def test_against_dormand_prince_853(spin_flight):
    # scipy's DOP853 (E. Hairer, S. P. Norsett, G. Wanner, Solving ODEs I, 1993), much finer than
    # what is allowed
    spin, start, states = spin_flight

    def rates(_, x):
        out = np.zeros_like(x)
        derivative(x, spin.model, spin.inputs, spin.work, False, out)
        return out

    at = np.linspace(0.0, SECONDS, len(states))
    exact = solve_ivp(
        rates, (0.0, SECONDS), start, "DOP853", t_eval=at, rtol=1e-8, atol=1e-8, max_step=0.1
    )
    assert exact.success
    assert_same_flight(states, exact.y.T)


def test_step_halving(spin_flight):
    spin, start, states = spin_flight
    assert_same_flight(states, spin.fly(SECONDS, step=0.0025, x=start))


def test_the_spins_are_spins(spin_at):
    # the comparison above says little about a flight in which nothing happens
    for aft, _ in STARTS:
        states = spin_at(aft).fly(12.0)
        assert alpha_deg(states).max() > 20.0
        assert np.abs(states[-1, 10:13]).max() > 0.4  # rad/s
