"""Draws keep what must hold: inertias of a real body, tables inside their ends."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.core import layout as k
from sim.core.draw_layout import D_BALANCE_AFT, D_MASS, N_DRAW, N_TABLE_ENDS, TABLE_DRAWS
from sim.core.flights.inertia import invert_inertia, spread_inertia
from sim.core.flights.perturb import drawn_tables, perturbed
from sim.core.loads.lookup import CN, G0, N_COLUMNS, N_S, X0, attached_share
from sim.pack.spreads import physical

PLACE = st.floats(-1.0, 1.0)
POINTS = st.lists(st.tuples(PLACE, PLACE, PLACE), min_size=4, max_size=9)
FACTOR = st.floats(0.5, 1.6)


def mass_of(points):
    """Return the mass array of one-kilogram points and a ball that makes it solid."""
    r = np.array(points)
    inertia = np.sum(np.einsum("ni,ni->n", r, r)) * np.eye(3) - r.T @ r + 0.01 * np.eye(3)
    row = np.zeros(k.N_MASS)
    row[k.M_MASS] = len(points)
    row[k.M_INERTIA : k.M_INERTIA + 9] = inertia.ravel()
    invert_inertia(row)
    return row


def tensor(row, first=k.M_INERTIA):
    return row[first : first + 9].reshape(3, 3)


def assert_real_body(inertia):
    """Principal moments of a real body: no one above the sum of the other two."""
    moments = np.linalg.eigvalsh(inertia)
    assert moments[0] > 0.0
    assert moments[2] <= (moments[0] + moments[1]) * (1.0 + 1e-12)


@given(POINTS, FACTOR, FACTOR, FACTOR, FACTOR)
def test_spread_inertia_is_that_of_a_real_body(points, factor, x, y, z):
    mass, out = mass_of(points), np.zeros(k.N_MASS)
    spread_inertia(mass, factor, np.array([x, y, z]), out)
    assert_real_body(tensor(out))
    assert tensor(out) == pytest.approx(tensor(out).T, abs=1e-12)


@given(POINTS, FACTOR, FACTOR, FACTOR, FACTOR)
def test_spread_inertia_is_that_of_the_stretched_points(points, factor, x, y, z):
    # scaling second moments by a factor is moving every point out by its root; the ball
    # stretches with them
    mass, out = mass_of(points), np.zeros(k.N_MASS)
    spread_inertia(mass, factor, np.array([x, y, z]), out)
    r = np.array(points) * np.sqrt([x, y, z])
    ball = 0.005 * np.array([x, y, z])
    second = factor * (r.T @ r + np.diag(ball))
    expected = np.trace(second) * np.eye(3) - second
    assert tensor(out) == pytest.approx(expected, rel=1e-9, abs=1e-9)
    assert out[k.M_MASS] == pytest.approx(factor * len(points))


@given(POINTS)
def test_the_inverse_is_the_inverse(points):
    row = mass_of(points)
    product = tensor(row) @ tensor(row, k.M_INVERSE)
    assert product == pytest.approx(np.eye(3), abs=1e-8)


def test_a_nominal_draw_changes_nothing(display_jet):
    jet = display_jet
    new = perturbed(jet.model, jet.roles, np.zeros(N_DRAW))
    for name, old in jet.model._asdict().items():
        if name != "env":  # a draw also sets the seed
            found = getattr(new, name)
            np.testing.assert_allclose(found, old, rtol=1e-12, atol=1e-12, err_msg=name)


@given(st.integers(0, 2**31))
def test_every_drawn_jet_is_a_real_body(display_jet, seed):
    jet = display_jet
    normal = 3.0 * np.random.default_rng(seed).standard_normal((1, N_DRAW))
    draw = physical(jet.spreads, normal)[0]
    new = perturbed(jet.model, jet.roles, draw)
    assert_real_body(tensor(new.mass))
    assert new.mass[k.M_MASS] == pytest.approx(jet.model.mass[k.M_MASS] * (1.0 + draw[D_MASS]))
    # a balance point further aft leaves every strip that much nearer to the nose
    shift = new.strips[k.S_RX] - jet.model.strips[k.S_RX]
    assert shift == pytest.approx(draw[D_BALANCE_AFT], abs=1e-12)
    shares = draw[list(TABLE_DRAWS)]
    assert np.abs(shares).max() <= 1.0


# --------------------------------------------------------------------------- tables
def drawn(model, shares):
    out = np.zeros_like(model.tables)
    drawn_tables(model.tables, model.table_ends, shares, out)
    return out


@given(st.integers(0, N_TABLE_ENDS - 1), st.floats(-1.0, 1.0))
def test_a_drawn_table_lies_between_its_ends(display_jet, which, share):
    model = display_jet.model
    shares = np.zeros(N_TABLE_ENDS)
    shares[which] = share
    out = drawn(model, shares)
    end = model.table_ends[2 * which + (1 if share > 0.0 else 0)]
    low, high = np.minimum(model.tables, end), np.maximum(model.tables, end)
    # G0 follows from X0 by a curve, so it is checked below
    assert np.all(out[:, :, :G0] >= low[:, :, :G0] - 1e-12)
    assert np.all(out[:, :, :G0] <= high[:, :, :G0] + 1e-12)


@given(st.tuples(*[st.sampled_from([-1.0, -0.4, 0.0, 0.7, 1.0])] * N_TABLE_ENDS))
def test_drawn_tables_stay_consistent(display_jet, shares):
    out = drawn(display_jet.model, np.array(shares))
    assert out.shape[1:] == (N_S, N_COLUMNS)
    assert np.all((out[:, :, X0] >= 0.0) & (out[:, :, X0] <= 1.0))
    half = 0.5 * (1.0 + np.sqrt(out[:, :, X0]))
    assert out[:, :, G0] == pytest.approx((half**2 - 0.25) / 0.75, abs=1e-12)
    assert attached_share(1.0) == 1.0


@pytest.mark.parametrize("which", range(N_TABLE_ENDS))
def test_the_ends_themselves_are_reached(display_jet, which):
    model = display_jet.model
    for share, side in ((-1.0, 0), (1.0, 1)):
        shares = np.zeros(N_TABLE_ENDS)
        shares[which] = share
        out = drawn(model, shares)[:, :, CN]
        end = model.table_ends[2 * which + side, :, :, CN]
        np.testing.assert_allclose(out, end, atol=1e-12)
