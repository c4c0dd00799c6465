"""Lags that have settled stay where they are, and settle where the slow way settles."""

import numpy as np
import pytest

from sim.core.motion.derivative import derivative, offsets
from sim.core.motion.integrate import scratch
from sim.core.motion.rates import TARGETS
from sim.core.steady.statics import hang

ANGLES = (-30.0, -8.0, 0.0, 6.0, 12.0, 15.0, 18.0, 22.0, 30.0, 45.0, 75.0)  # deg, stall in them


@pytest.fixture(scope="module")
def jet(display_jet):
    return display_jet.model


def relaxed(model, x):
    """Return the lag states of ``x`` by half steps alone, however many it takes."""
    work, inputs = scratch(model)
    first = offsets(model)[2]
    x, out = x.copy(), np.zeros(x.size)
    for _ in range(2000):
        derivative(x, model, inputs, work, TARGETS, out)
        x[first:] += 0.5 * out[first:]
        if np.abs(out[first:]).max() < 1e-11:
            return x[first:]
    raise AssertionError("does not settle")


@pytest.mark.parametrize("sideslip", [0.0, 12.0])
@pytest.mark.parametrize("angle", ANGLES)
def test_the_same_rest_as_by_half_steps(jet, angle, sideslip):
    """From one start; to within what the stop of 1e-10 a step leaves."""
    work, inputs = scratch(jet)
    x = np.zeros(work.k1.size)
    hang(x, jet, inputs, work, 18.0, np.radians(angle), np.radians(sideslip), 0.0, 0.4, 0.0, 0.0)
    first = offsets(jet)[2]
    afresh = x.copy()
    afresh[first:] = 0.0
    assert x[first:] == pytest.approx(relaxed(jet, afresh), abs=1e-8)
