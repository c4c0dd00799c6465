"""Bluff bodies: a cylinder across the flow, and a plate that tumbles about its span."""

import numpy as np
import pytest

from sim.aero.fuselage import body_arrays
from sim.aero.plates import plate_table
from sim.aero.tables import read_toml
from sim.core import layout as k
from sim.core.body import body_loads
from sim.core.statics import polar
from sim.describe import Body, Station

DENSITY, SPEED, CHORD, AREA = 1.225, 20.0, 0.3, 0.27


def test_cylinder_across_the_flow():
    """CD 1.2 for Re 1e4 to 2e5 (C. Wieselsberger 1921; S. F. Hoerner, 1965; from memory)."""
    ends = [
        Station(aft_mm=x, width_mm=120.0, height_mm=120.0, up_mm=0.0) for x in (-1200.0, 1200.0)
    ]
    tube = Body(name="tube", strips=12, corner_pct=100.0, stations=ends)
    rows, par = body_arrays(tube, [], 0.3)
    par[k.BP_PUSH_FACTOR] = 1.0
    loads = np.zeros(6)
    body_loads(0.0, SPEED, 0.0, 0.0, 0.0, 0.0, DENSITY, rows, par, loads)
    drag = -loads[1] / (0.5 * DENSITY * SPEED**2 * 0.12 * 2.4)
    values = read_toml("body_model.toml").values
    share = np.interp(20.0, values["length_ratio"], values["length_share"])  # finite length
    assert drag / share == pytest.approx(1.2, rel=0.1)


def tumbling(body, rate):
    """Return mean torque, lift and drag coefficients over a turn at a rate omega c/2V."""
    rows = np.zeros((k.N_STRIP_ROWS, 1))
    # turned about its middle, a quarter chord behind the point the tables refer to
    rows[k.S_RX], rows[k.S_CX], rows[k.S_NZ] = 0.25 * CHORD, 1.0, -1.0
    rows[k.S_CHORD], rows[k.S_AREA], rows[k.S_FORCE], rows[k.S_RELAX] = CHORD, AREA, 1.0, 7.0
    index = np.zeros((k.N_STRIP_INDEX, 1), dtype=np.int64)
    index[k.SI_CHANNEL] = -1
    surface = np.zeros((1, k.N_SURFACE_COLS))
    surface[0, [k.F_AREA, k.F_AREA_ETA2, k.F_SPAN, k.F_RATE_MAX, k.F_SPANS]] = (
        AREA, 1.0, AREA / CHORD, 150.0, 0.5,
    )  # fmt: skip
    table = plate_table(3.0, 3.0, thickness_pct=3.0, edge="sharp")[None]
    model = body(1.0, np.eye(3), strips=rows, strip_index=index, surfaces=surface, tables=table)
    model.env[k.E_AIR] = 1.0
    alphas = np.radians(np.arange(-180.0, 180.0, 2.0))
    n = alphas.size
    turn = np.zeros((n, 3))
    turn[:, 1] = rate * 2.0 * SPEED / CHORD
    loads = polar(model, SPEED, alphas, np.zeros(n), turn, np.zeros((n, 4)))
    push = 0.5 * DENSITY * SPEED**2 * AREA
    lift = (loads[:, 0] * np.sin(alphas) - loads[:, 2] * np.cos(alphas)) / push
    drag = -(loads[:, 0] * np.cos(alphas) + loads[:, 2] * np.sin(alphas)) / push
    return loads[:, 4].mean() / (push * CHORD), lift.mean(), drag.mean()


@pytest.mark.xfail(
    strict=True,
    reason="a strip sees the air of its quarter chord only: turning about its span brings it "
    "neither rotational lift nor drag nor damping (mean torque coefficient under 0.005 and "
    "mean CL near 0 at every rate, mean CD 0.74), and the lag of shed vortices over a turn, "
    "which drives the real plate, is not modelled",
)
@pytest.mark.parametrize("quantity", ["rate", "lift", "drag"])
def test_a_tumbling_plate(body, quantity):
    """Rate 0.35, mean CL 2.20, CD 1.60, each +-40 % (E. H. Smith, AD-710288, 1970, Re 240,000)."""
    if quantity == "rate":
        assert tumbling(body, 0.21)[0] > 0.0 > tumbling(body, 0.49)[0]
    elif quantity == "lift":
        assert abs(tumbling(body, 0.35)[1]) == pytest.approx(2.20, rel=0.4)
    else:
        assert tumbling(body, 0.35)[2] == pytest.approx(1.60, rel=0.4)
