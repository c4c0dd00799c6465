"""A plate tumbling about its span: E. H. Smith, AD-710288 (1970), Re 240,000, abstract."""

from functools import lru_cache

import numpy as np
import pytest

from sim.aero.sections.plates import plate_table
from sim.core import layout as k
from sim.core.steady.statics import polar
from tests.conftest import bare_model
from tests.validation.rows import Row, cases, check, relative
from tests.validation.wings import DENSITY

SOURCE = "smith1970"
SPEED, CHORD, AREA = 20.0, 0.3, 0.27
QUARTER_CHORD = (
    "a strip sees the air of its quarter chord only: turning about its span brings it neither "
    "rotational lift nor drag nor damping (mean torque coefficient under 0.005 and mean CL "
    "near 0 at every rate, mean CD 0.74), and the lag of shed vortices over a turn, which "
    "drives the real plate, is not modelled"
)


@lru_cache
def tumbling(rate):
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
    model = bare_model(
        1.0, np.eye(3), strips=rows, strip_index=index, surfaces=surface, tables=table
    )
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


def sustained_rate():
    """Return the rate omega c/2V at which the mean torque falls through zero, 0 if none."""
    rates = np.linspace(0.05, 0.8, 16)
    torque = np.array([tumbling(float(rate))[0] for rate in rates])
    falls = np.flatnonzero((torque[:-1] > 0.0) & (torque[1:] <= 0.0))
    return rates[falls[-1]] if falls.size else 0.0


def rows():
    for quantity, published, measure in (
        ("rate omega c/2V", 0.35, sustained_rate),
        ("mean CL", 2.20, lambda: abs(tumbling(0.35)[1])),
        ("mean CD", 1.60, lambda: tumbling(0.35)[2]),
    ):
        yield Row(
            SOURCE, "40 % for a right size", f"tumbling plate: {quantity}", published, measure,
            relative(0.4), "published", QUARTER_CHORD, observed=True,
        )  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
