"""The body between two panels: the plate's drag across the flow, the square of the sine below."""

import numpy as np
import pytest

from sim.aero.interference.carried import cross_flow_only
from sim.aero.sections.plates import plate_table
from sim.core import layout as k
from sim.core.loads.lookup import CM, CN, DCN, G0, alpha_of_coordinate, grid
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble

DEGREES = np.degrees(alpha_of_coordinate(grid()))
PLATE = plate_table(2.0, 2.0)
BODY = cross_flow_only(PLATE[None])[0]


def at(table, column, degrees):
    return float(np.interp(degrees, DEGREES, table[:, column]))


@pytest.mark.parametrize("side", [-1.0, 1.0])
def test_across_the_flow_it_is_the_plate_below_that_a_body(side):
    across = at(PLATE, CN, 90.0)
    assert at(BODY, CN, side * 90.0) == pytest.approx(side * across, rel=1e-6)
    assert at(BODY, CN, side * 45.0) == pytest.approx(side * 0.5 * across, rel=0.01)
    assert abs(at(BODY, CN, side * 45.0)) < 0.7 * abs(at(PLATE, CN, side * 45.0))
    # half way along
    assert at(BODY, CM, side * 60.0) == pytest.approx(-0.25 * at(BODY, CN, side * 60.0), rel=0.02)


def test_attached_flow_is_what_it_was():
    small = np.abs(DEGREES) < 8.0
    assert BODY[small, CN] == pytest.approx(PLATE[small, CN], abs=0.01)
    attached = [t[:, CN] + (1.0 - t[:, G0]) * t[:, DCN] for t in (BODY, PLATE)]
    assert attached[0][np.abs(DEGREES) < 50.0] == pytest.approx(
        attached[1][np.abs(DEGREES) < 50.0], abs=1e-9
    )


def test_only_what_is_carried_through_and_no_strake_has_it():
    jet = assemble(load_aeroplane("display_jet")).model
    own = jet.strip_index[k.SI_TABLE] == jet.strip_index[k.SI_SURFACE]
    carried = jet.strips[k.S_CARRIED] > 0.0
    strake = jet.surfaces[jet.strip_index[k.SI_SURFACE], k.F_VORTEX] > 0.0
    assert own[strake].all()
    assert not own[carried & ~strake].any()
    assert (carried & ~strake).any()
