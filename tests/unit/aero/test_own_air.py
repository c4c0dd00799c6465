"""Separated flow in the air that a wing turns itself: what is known of the whole wing comes out."""

import numpy as np
import pytest
from scipy.optimize import brentq

from sim.aero.sections.branches import Branch
from sim.aero.sections.own_air import in_own_air
from sim.core import layout as k
from sim.core.loads.lookup import CN, DCN, G0, X0, alpha_of_coordinate, grid
from tests.validation.wings import DENSITY, SPEED, alone, loads_at, surface

DEGREES = np.degrees(alpha_of_coordinate(grid()))
ANGLES = np.array([5.0, 10.0, 15.0, 20.0, 30.0, 45.0, 60.0, 80.0, -20.0, 150.0])


def normal_force(model, area):
    return -loads_at(model, ANGLES)[:, 2] / (0.5 * DENSITY * SPEED**2 * area)


def let_go(model):
    """Return the model whose flow is attached at no angle."""
    tables = model.tables.copy()
    tables[..., X0] = 0.0
    return model._replace(tables=tables)


def out_of_its_air(model, monkeypatch, wing):
    """Return the same built as if strips saw what the wing is flown at, nothing induced."""
    monkeypatch.setattr("sim.aero.choice.felt_strength", lambda *_: 0.0)
    from sim.aero.choice import _felt, _table

    _felt.cache_clear()
    _table.cache_clear()
    bare, _ = alone(wing)
    _felt.cache_clear()
    _table.cache_clear()
    surfaces = bare.surfaces.copy()
    surfaces[:, [k.F_K0, k.F_K1]] = 0.0
    return bare._replace(surfaces=surfaces)


@pytest.mark.parametrize(("chord", "sweep"), [(0.1, 0.0), (0.2, 0.0), (0.2, 30.0), (0.34, 20.0)])
def test_a_wing_that_has_let_go_pushes_as_it_is_known_to(monkeypatch, chord, sweep):
    wing = surface("wing", 1.2, chord, chord, sweep)
    model, area = alone(wing)
    known = normal_force(let_go(out_of_its_air(model, monkeypatch, wing)), area)
    # the angle is not the same across the span, and the kernel reads off straight lines
    assert normal_force(let_go(model), area) == pytest.approx(known, rel=0.015)


def test_by_hand():
    # CN = sin a, strength 0.1: at 30 deg 0.5 pushes, seen in air whose square is less by cosines;
    # of that 0.866 lifts and takes a tenth from the tangent
    alpha, at = np.radians(DEGREES), np.radians(30.0)
    out = in_own_air(Branch(np.sin(alpha), 0.0 * alpha, 0.0 * alpha), 0.1, 0.0)

    def seen(left):
        return 0.5 * (np.cos(left) / np.cos(at)) ** 2

    left = brentq(lambda x: np.tan(x) - np.tan(at) + 0.1 * seen(x) * np.cos(at), 0.1, at)
    assert np.interp(np.degrees(left), DEGREES, out.cn) == pytest.approx(seen(left), abs=3e-4)
    # across the flow and backwards nothing is turned
    assert np.interp([90.0, 120.0], DEGREES, out.cn) == pytest.approx(
        np.sin(np.radians([90.0, 120.0])), abs=1e-3
    )


def test_half_of_a_wing_that_lets_go_still_turns_the_air():
    # with nothing but the attached half pushing the air down, the rest of it would meet 13 % more
    model, area = alone(surface("wing", 1.2, 0.2, 0.2))
    inner = np.abs(model.strips[k.S_ETA]) < 0.5
    tables = np.concatenate([model.tables, model.tables])
    tables[1, :, X0] = 0.0
    tables[0, :, [CN, X0, G0]] = np.stack(
        [
            tables[0, :, CN] + (1.0 - tables[0, :, G0]) * tables[0, :, DCN],
            np.ones(len(DEGREES)),
            np.ones(len(DEGREES)),
        ]
    )
    index = model.strip_index.copy()
    index[k.SI_TABLE] = np.where(inner, 1, 0)
    half = normal_force(model._replace(tables=tables, strip_index=index), area)[1]
    whole = normal_force(model._replace(tables=tables[:1]), area)[1]
    gone = normal_force(let_go(model), area)[1]
    assert half == pytest.approx(0.5 * (whole + gone), rel=0.05)
