"""Nose and strakes wash the wing behind them: slender bodies, and what the strips then carry."""

from dataclasses import replace

import numpy as np
import pytest

import sim
from sim.aero.geometry.lattice import Planform, load_behind
from sim.aero.geometry.panels import panels_of
from sim.aero.interference.forewash import _ahead, carried_through
from sim.core import layout as k
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from tests.validation.whole_data import without_tail

JET = load_aeroplane("display_jet")


def carried(planform, y, local):
    """Return lift over q per radian from local lift coefficients at strip middles."""
    ends = np.concatenate([[0.0], 0.5 * (y[1:] + y[:-1]), [planform.y[-1]]])
    return 2.0 * float(np.sum(local * np.interp(y, planform.y, planform.chord) * np.diff(ends)))


def test_a_slender_wing_loses_what_its_nose_carries():
    # lift goes with the square of the greatest width [pitts1957]: a nose 0.3 as wide has 0.09
    # of it, whatever lies ahead, so the wing keeps 0.91 of what it has alone
    nose = Planform(
        tuple(np.linspace(0.0, 0.3, 9)), tuple(np.linspace(0.0, 5.0, 9)),
        tuple(np.linspace(6.0, 1.0, 9)),
    )  # fmt: skip
    wing = Planform((0.0, 0.3, 1.0), (6.0, 6.0, 13.0), (7.1, 7.1, 0.1))
    y, alone, behind = load_behind(wing, nose)
    share = carried(wing, y, behind) / carried(wing, y, alone)
    assert share == pytest.approx(0.91, abs=0.02)


def test_strips_lose_what_the_lattice_says():
    whole = assemble(without_tail(JET))
    panels = [p for surface in whole.aeroplane.surfaces for p in panels_of(surface)]
    wing = next(p for p in panels if p.surface.role == "wing")
    shape, ahead = carried_through(wing), _ahead(wing, panels, whole.aeroplane.bodies)
    assert ahead is not None
    y, alone, behind = load_behind(shape, ahead)
    strips = whole.model.strips.copy()
    strips[k.S_AHEAD] = 0.0
    free = replace(whole, model=whole.model._replace(strips=strips))
    slopes = [-np.diff(sim.coefficients(a, alpha_deg=[-3.0, 3.0]).CZ)[0] for a in (free, whole)]
    lost = (slopes[0] - slopes[1]) / np.radians(6.0) * whole.weighed.reference.area_m2
    # sections and lattice differ by a few per cent in slope
    expected = carried(shape, y, alone) - carried(shape, y, behind)
    assert lost == pytest.approx(expected, rel=0.06)


def test_without_nose_and_strakes_nothing_is_lost():
    strakes = {s.name for s in JET.surfaces if s.role == "strake"}
    bare = JET.model_copy(update={
        "bodies": (), "surfaces": tuple(s for s in JET.surfaces if s.name not in strakes),
        "airframe": tuple(a for a in JET.airframe if a.of not in strakes | {"fuselage"}),
    })  # fmt: skip
    assert not assemble(bare).model.strips[k.S_AHEAD].any()
