"""Kernels of steady spins against the same thing asked for step by step."""

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.motion.integrate import rk4_step
from sim.core.motion.rates import TARGETS
from sim.core.steady.spinning import N_RIGID, rates_near
from sim.describe import SetUpBlock, load_aeroplane, resolve_setup
from sim.pack.assemble import assemble
from sim.spin.equilibrium import Held, SpinBalance

STICKS = (1.0, 0.0, 1.0, 0.0)
TICKS, STEPS, SECONDS = 40, 2, 0.005


@pytest.fixture(scope="module", params=["off", "on"])
def balances(request):
    """Two balances of one aeroplane, so that neither sees what the other did."""
    aeroplane = load_aeroplane("display_jet")
    ready = assemble(
        aeroplane, resolve_setup(aeroplane, SetUpBlock(like="club", gyro=request.param))
    )
    held = Held(np.array(STICKS), np.array([0.1, 0.0, 0.0]))
    return SpinBalance(ready, held, 80.0), SpinBalance(ready, held, 80.0)


def test_a_fall_is_the_integrators_tick_for_tick(balances):
    one, other = balances
    for balance in balances:
        balance.put(balance.start(0.8, 0.1))
    last = one.fall(TICKS, STEPS, TICKS // 4)
    height, flown = other.x[k.X_POS + 2], []
    for _ in range(TICKS):
        other.command()
        for _ in range(STEPS):
            rk4_step(other.x, other.model, other.inputs, other.work, SECONDS)
        other.x[k.X_POS + 2] = height
        flown.append(other.x.copy())
    assert last == pytest.approx(np.array(flown[-(TICKS // 4) :]), rel=1e-9, abs=1e-9)
    assert np.abs(flown[-1] - flown[0]).max() > 0.1  # or nothing has moved


def test_rates_beside_a_state_are_those_of_each_state_put(balances):
    balance, other = balances
    z = balance.start(0.8, 0.1)
    steps = 1e-3 * (1.0 + np.abs(z))
    raw = np.empty((z.size + 1, balance.x.size))
    rates_near(*balance.flown, balance.controls, balance.inner, z, steps, raw)
    for i in range(N_RIGID):
        moved, alone = z.copy(), np.empty(balance.x.size)
        moved[i] += steps[i]
        other.put(moved)
        other.rates_into(alone, TARGETS)
        assert raw[1 + i] == pytest.approx(alone, rel=1e-9, abs=1e-9)
        assert np.abs(raw[1 + i] - raw[0]).max() > 1e-6
