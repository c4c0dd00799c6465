"""A strake's vortex keeps the flow on the wing attached, and never lets go of what would hold."""

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.motion.derivative import offsets
from sim.core.motion.integrate import scratch
from sim.core.steady.statics import hang
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble

JET = assemble(load_aeroplane("display_jet"))


@pytest.mark.parametrize("alpha_deg", [-3.0, -1.0, 0.0, 1.0, 3.0])
def test_helped_strips_are_attached_at_small_angles(alpha_deg):
    # help is 10 degrees of stall: taken past nought it stalled the other side at half of that
    work, inputs = scratch(JET.model)
    x = np.zeros(work.k1.size)
    o_x = offsets(JET.model)[4]
    x[o_x:] = 1.0
    hang(x, JET.model, inputs, work, 20.0, np.radians(alpha_deg), 0.0, 0.0, 0.0, 0.0, 0.0)
    helped = JET.model.strips[k.S_HELP] > np.radians(5.0)
    assert helped.any()
    assert x[o_x:][helped] == pytest.approx(1.0, abs=1e-3)
