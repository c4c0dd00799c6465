"""What a flap pushes sideways: across its own hinge, not across the line of its strip."""

from math import cos, radians, sin

import numpy as np
import pytest

import sim
from sim.aero.geometry.panels import _tilt, panels_of
from tests.unit.core.test_sheetwash import light
from tests.validation.whole_data import deflections


def swept_wing(root_chord_mm, tip_chord_mm):
    """Return the light aeroplane with a wing alone, its quarter-chord line swept 30 degrees."""
    read = light("wing").aeroplane
    (wing,) = read.surfaces
    span = 1500.0
    edge = np.tan(radians(30.0)) + 0.25 * (root_chord_mm - tip_chord_mm) / span
    shape = wing.model_copy(
        update={
            "root_right_mm": 0.0, "panel_span_mm": span, "root_chord_mm": root_chord_mm,
            "tip_chord_mm": tip_chord_mm, "sweep_deg": float(np.degrees(np.arctan(edge))),
            "dihedral_deg": 0.0, "washout_deg": 0.0, "incidence_deg": 0.0,
            "controls": (wing.controls[0].model_copy(update={"chord_pct": 25.0}),),
        }
    )  # fmt: skip
    return read.model_copy(update={"surfaces": (shape,)})


@pytest.mark.parametrize("tip_chord_mm", [1000.0, 300.0])
def test_the_tilt_is_the_unit_vector_across_the_hinge(tip_chord_mm):
    (wing,) = swept_wing(1000.0, tip_chord_mm).surfaces
    panel = panels_of(wing)[0]
    lean = panel.quarter_sweep
    ends = [panel.point(t, 0.75) for t in (0.0, 1.0)]
    hinge = ends[1] - ends[0]
    along, back = _tilt(panel, lean, 0.25)
    across = np.array([along * cos(lean) + back, along * sin(lean), 0.0])
    assert np.linalg.norm(across) == pytest.approx(1.0)
    assert across @ hinge == pytest.approx(0.0, abs=1e-9)


def test_a_straight_strip_tilts_along_the_body():
    (wing,) = light("wing").aeroplane.surfaces
    assert _tilt(panels_of(wing)[0], 0.0, 0.25) == (1.0, 0.0)


def sideways(root_chord_mm, tip_chord_mm):
    """Return CY by ailerons where all flow has let go."""
    ready = sim.assemble(swept_wing(root_chord_mm, tip_chord_mm))
    turned = deflections(ready.aeroplane, "aileron", 10.0)
    return float(sim.coefficients(ready, alpha_deg=55.0, deflections_deg=turned).CY)


def test_a_hinge_straight_across_pushes_nothing_sideways():
    # quarter-chord line swept 30 degrees on both; the tapered one's hinge, at three quarters of
    # the chord, is not
    straight = 0.5 * (2000.0 - 268.0) / 1500.0
    assert straight == pytest.approx(np.tan(radians(30.0)), abs=1e-3)
    swept = sideways(1000.0, 1000.0)
    assert swept < -0.005
    assert sideways(2000.0, 268.0) == pytest.approx(0.0, abs=0.05 * abs(swept))
