"""A strake's vortex keeps the flow on the wing attached, and never lets go of what would hold."""

import numpy as np
import pytest

from sim import tables
from sim.core import layout as k
from sim.core.motion.derivative import offsets
from sim.core.motion.integrate import scratch
from sim.core.steady.statics import hang


@pytest.mark.parametrize("alpha_deg", [-3.0, -1.0, 0.0, 1.0, 3.0])
def test_helped_strips_are_attached_at_small_angles(display_jet, alpha_deg):
    # help is 10 degrees of stall: taken past nought it stalled the other side at half of that
    model = display_jet.model
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    o_x = offsets(model)[4]
    x[o_x:] = 1.0
    hang(x, model, inputs, work, 20.0, np.radians(alpha_deg), 0.0, 0.0, 0.0, 0.0, 0.0)
    helped = model.strips[k.S_HELP] > np.radians(5.0)
    assert helped.any()
    assert x[o_x:][helped] == pytest.approx(1.0, abs=1e-3)


def test_between_the_strakes_a_wing_has_no_edge_whose_lag_it_could_have(display_jet):
    # only what lies outboard of the strakes' tips comes late by itself; elsewhere the strakes do
    jet, model = display_jet.aeroplane, display_jet.model
    strake = next(s for s in jet.surfaces if s.role == "strake")
    wing = model.strip_index[k.SI_SURFACE] == next(
        j for j, s in enumerate(jet.surfaces) if s.role == "wing"
    )
    right, half, delay = (model.strips[r, wing] for r in (k.S_RY, k.S_HALF_Y, k.S_DELAY))
    tip = 1e-3 * (strake.root_right_mm + strake.panel_span_mm)
    inside, outside = np.abs(right) + np.abs(half) < tip, np.abs(right) - np.abs(half) > tip
    assert inside.any()
    assert outside.any()
    assert not delay[inside].any()
    assert (delay[outside] == tables.strip_model().separation_delay_chords).all()
