"""Layout of the strip tables: grid, symmetry, branches, draws."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.aero.sections.aerofoil import section_table
from sim.aero.sections.plates import plate_table
from sim.aero.sections.vortex import vortex_table
from sim.core.loads.lookup import (
    CC,
    CM,
    CN,
    DCC,
    DCM,
    DCN,
    G0,
    N_COLUMNS,
    N_S,
    X0,
    alpha_of_coordinate,
    attached_share,
    coordinate_of_alpha,
    flow_coordinate,
    grid,
)

SYMMETRIC = {
    "section": section_table(12.0, 0.0, "round", 2e5, 5.0),
    "sharp section": section_table(4.0, 0.0, "sharp", 1e5, 5.0),
    "plate": plate_table(2.0, 1.4),
    "vortex": vortex_table(1.3, 3.1, 35.0, 1.0),
}
ALL = SYMMETRIC | {"cambered section": section_table(10.0, 2.0, "round", 2e5, 5.0)}
ALPHA = alpha_of_coordinate(grid())


@given(st.floats(-np.pi, np.pi))
def test_coordinate_goes_both_ways(alpha):
    s = flow_coordinate(20.0 * np.cos(alpha), 20.0 * np.sin(alpha))
    assert s == pytest.approx(float(coordinate_of_alpha(np.array(alpha))), abs=1e-12)
    assert float(alpha_of_coordinate(np.array(s))) == pytest.approx(alpha, abs=1e-9)


def test_coordinate_of_quarter_turns():
    quarters = [(1.0, 0.0, 0.0), (0.0, 1.0, 1.0), (-1.0, 0.0, 2.0), (0.0, -1.0, -1.0)]
    for u, w, s in quarters:
        assert flow_coordinate(u, w) == s
    assert flow_coordinate(0.0, 0.0) == 0.0


def test_kirchhoff_share():
    # CL over attached CL: ((1 + sqrt f)/2)^2, closed form at f = 1, .7, .5, .25, 0
    for f, ratio in ((1.0, 1.0), (0.7, 0.84333), (0.5, 0.72855), (0.25, 0.5625), (0.0, 0.25)):
        assert 0.25 + 0.75 * attached_share(f) == pytest.approx(ratio, abs=1e-5)


@pytest.mark.parametrize("name", ALL)
def test_shape_range_and_share(name):
    table = ALL[name]
    assert table.shape == (N_S, N_COLUMNS)
    assert table.flags.c_contiguous
    assert np.all(np.isfinite(table))
    assert np.all((table[:, X0] >= 0.0) & (table[:, X0] <= 1.0))
    np.testing.assert_allclose(table[:, G0], [attached_share(x) for x in table[:, X0]], atol=1e-14)
    assert table[(N_S - 1) // 2, X0] == 1.0


@pytest.mark.parametrize("name", ALL)
def test_the_circle_closes(name):
    # ±180° is one direction
    np.testing.assert_allclose(ALL[name][0], ALL[name][-1], atol=1e-12)


@pytest.mark.parametrize("name", SYMMETRIC)
def test_mirror_symmetry_is_exact(name):
    table, mirrored = SYMMETRIC[name], SYMMETRIC[name][::-1]
    for column in (CN, CM, DCN, DCM):
        np.testing.assert_array_equal(table[:, column], -mirrored[:, column])
    for column in (CC, X0, DCC, G0):
        np.testing.assert_array_equal(table[:, column], mirrored[:, column])


def test_inverted_camber_is_the_mirror_image():
    up = section_table(10.0, 2.0, "round", 2e5, 5.0)
    down = section_table(10.0, -2.0, "round", 2e5, 5.0)[::-1]
    np.testing.assert_allclose(up[:, CN], -down[:, CN], atol=1e-12)
    np.testing.assert_allclose(up[:, CC], down[:, CC], atol=1e-12)
    np.testing.assert_allclose(up[:, CM], -down[:, CM], atol=1e-12)


@pytest.mark.parametrize("name", ALL)
def test_no_kinks(name):
    # the slope of CN changes by no more than 2 % of CN (at least 1) from node to node,
    # away from the measured table's own 5° steps in reversed flow
    near = np.abs(ALPHA) < np.radians(130.0)
    cn = ALL[name][near, CN]
    bend = np.abs(np.diff(cn, 2)) / np.maximum(np.abs(cn[1:-1]), 1.0)
    limit = 0.05 if "section" in name else 0.02  # sections stall within 3° at low Re
    assert bend.max() < limit


def test_stall_shift_moves_the_stall_outward():
    def stall(table, side):
        inside = (side * ALPHA > 0.0) & (np.abs(ALPHA) < np.radians(60.0))
        return np.degrees(np.sum(np.gradient(np.abs(ALPHA[inside])) * table[inside, G0]))

    builders = [
        lambda shift: section_table(12.0, 0.0, "round", 3e5, 5.0, stall_shift_deg=shift),
        lambda shift: plate_table(2.0, 1.5, stall_shift_deg=shift),
        lambda shift: vortex_table(1.3, 3.1, 35.0, 1.0, burst_shift_deg=shift),
    ]
    for build in builders:
        for side in (1.0, -1.0):
            moved = abs(stall(build(2.0), side)) - abs(stall(build(0.0), side))
            assert moved == pytest.approx(2.0, abs=0.6)


def test_factors_act_where_they_should():
    def at(table, degrees, column=CN):
        return np.interp(np.radians(degrees), ALPHA, table[:, column])

    base, more = (
        section_table(12.0, 0.0, "round", 3e5, 5.0, post_stall_factor=f) for f in (1, 1.1)
    )
    assert at(more, 60.0) == pytest.approx(1.1 * at(base, 60.0))
    assert at(more, 3.0) == pytest.approx(at(base, 3.0), rel=1e-9)
    base, more = (vortex_table(1.3, 3.1, 35.0, 1.0, vortex_factor=f) for f in (1.0, 1.1))
    gain = at(more, 20.0) - at(base, 20.0)
    assert gain == pytest.approx(0.31 * np.sin(np.radians(20.0)) ** 2, rel=0.01)


@pytest.mark.parametrize("reynolds", [4e4, 8e4, 1.6e5, 3.6e5, 7e5, 1e6])
@pytest.mark.parametrize("ratio", [6.0, np.inf])
def test_no_kink_where_the_measured_curve_takes_over(reynolds, ratio):
    # a node off the straight line between its neighbours by less than 2 % of CN there
    table = section_table(15.0, 0.0, "round", reynolds, ratio)
    degrees = np.degrees(alpha_of_coordinate(grid()))
    seam = np.flatnonzero((degrees > 20.0) & (degrees < 34.0))
    before, here, after = (table[seam + step, CN] for step in (-1, 0, 1))
    assert (np.abs(here - 0.5 * (before + after)) / here).max() < 0.02
