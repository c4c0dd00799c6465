"""A surface of one panel that lies has no other side, and still makes numbers."""

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.steady.statics import polar
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble

CHANGES = {
    # the fin of a file that says nothing of its dihedral lay flat, and all forces were NaN
    "fin laid flat": {"dihedral_deg": 0.0},
    "fin at 40 degrees": {"dihedral_deg": 40.0},
    "half a tail on the right": {"dihedral_deg": 0.0, "root_right_mm": 30.0, "role": "tail"},
    "slender fin laid flat": {"dihedral_deg": 0.0, "root_chord_mm": 60.0, "tip_chord_mm": 60.0},
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES.keys())
def test_a_single_lying_panel_has_finite_loads(change):
    jet = load_aeroplane("display_jet")
    surfaces = tuple(s.model_copy(update=change) if s.role == "fin" else s for s in jet.surfaces)
    ready = assemble(jet.model_copy(update={"surfaces": surfaces}))
    model = ready.model
    for name, array in zip(model._fields, model, strict=True):
        assert np.isfinite(array).all(), name
    j = next(i for i, s in enumerate(jet.surfaces) if s.role == "fin")
    # without another side there is no antisymmetric loading to turn the air
    assert model.surfaces[j, k.F_K1] == 0.0
    assert not model.strips[k.S_ETA, model.strip_index[k.SI_SURFACE] == j].any()
    alphas = np.radians(np.array([0.0, 10.0, 40.0, 80.0]))
    loads = polar(model, 20.0, alphas, np.full(4, 0.1), np.full((4, 3), 0.2), np.zeros((4, 4)))
    assert np.isfinite(loads).all()
    assert 8.0 < ready.stall.speed_mps < 13.0
