"""The moment that turns a slender body across the flow: M. M. Munk, NACA Report 184 (1924).

In flow without friction it is (k2 - k1) q V sin 2 alpha, k1 and k2 the shares of virtual mass
along and across; of a prolate spheroid they are H. Lamb's (Hydrodynamics, 1932, art. 114):
with e the eccentricity, a0 = 2 (1 - e²)/e³ (L/2 - e), b0 = 1/e² - (1 - e²)/(2 e³) L,
L = log((1 + e)/(1 - e)), and k = a0/(2 - a0) and b0/(2 - b0).
"""

from math import log, pi, radians, sin, sqrt

import numpy as np
import pytest

from sim.aero.geometry.fuselage import body_arrays
from sim.core.layout import BP_BOAT_TAIL
from sim.core.loads.body import body_loads
from sim.describe import Body, Station
from tests.validation.rows import cases, check, each, relative
from tests.validation.wings import DENSITY, SPEED

SOURCE = "munk1924"
DEPTH_MM, ALPHA = 100.0, radians(1.0)


def lamb(fineness):
    """Return k2 - k1 of a prolate spheroid."""
    e = sqrt(1.0 - 1.0 / fineness**2)
    both = log((1.0 + e) / (1.0 - e))
    along = 2.0 * (1.0 - e * e) / e**3 * (0.5 * both - e)
    across = 1.0 / e**2 - (1.0 - e * e) / (2.0 * e**3) * both
    return across / (2.0 - across) - along / (2.0 - along)


def moment_share(fineness):
    """Return the body's pitching moment over q V sin 2 alpha, its rear without separation."""
    length = fineness * DEPTH_MM
    place = 0.5 * (1.0 - np.cos(np.linspace(0.0, pi, 61)))
    depth = DEPTH_MM * np.sqrt(np.maximum(1.0 - (2.0 * place - 1.0) ** 2, 1e-4))
    stations = [
        Station(aft_mm=length * x, width_mm=d, height_mm=d, up_mm=0.0)
        for x, d in zip(place, depth, strict=True)
    ]
    hull = Body(name="hull", strips=60, corner_pct=100.0, stations=stations)
    rows, par = body_arrays(hull, [], 0.3, SPEED)
    par[BP_BOAT_TAIL] = 1.0
    loads = np.zeros(6)
    body_loads(
        SPEED * np.cos(ALPHA), 0.0, SPEED * sin(ALPHA), 0.0, 0.0, 0.0, DENSITY, rows, par, loads
    )
    volume = pi / 6.0 * length * DEPTH_MM**2 * 1e-9
    return loads[4] / (0.5 * DENSITY * SPEED**2 * volume * sin(2.0 * ALPHA))


def rows():
    yield from each(SOURCE, "Lamb's spheroid; 5 % as its virtual masses are quoted", (
        (f"spheroid of fineness {f:g}: pitching moment over q V sin 2 alpha", lamb(f),
         lambda f=f: moment_share(f))
        for f in (4.0, 6.0, 10.0)
    ), relative(0.05), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_the_virtual_masses_are_lambs():
    # his table: k1 0.082 and k2 0.860 at fineness 4 (from memory)
    assert lamb(4.0) == pytest.approx(0.860 - 0.082, abs=1e-3)
