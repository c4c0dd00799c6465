"""A square section in a cross-flow drives itself sideways: G. V. Parkinson, J. D. Smith (1964).

Their polynomial of the transverse force, 2.69 t - 168 t³ + 6270 t⁵ - 59900 t⁷ (from memory),
t the tangent of the cross-flow's angle; it holds to about 15°.
"""

import numpy as np
import pytest

from sim import tables
from sim.aero.geometry.fuselage import body_arrays
from sim.core.loads.body import body_loads
from sim.describe import Body, Station
from tests.validation.rows import absolute, cases, check, each

SOURCE = "parkinson1964"
TABLE = "body_side_force.csv: slope_per_sine, peak_at_deg, gone_at_deg, tail"
DENSITY, SPEED, SIDE_MM = 1.225, 10.0, 100.0
QUARTER_OF_THE_PEAK = 0.14


def polynomial(degrees):
    t = np.tan(np.radians(degrees))
    return 2.69 * t - 168.0 * t**3 + 6270.0 * t**5 - 59900.0 * t**7


def side_force(degrees, corner_pct=0.0):
    """Return the side force on an endless box, with the sideways motion, on its side."""
    ends = [
        Station(aft_mm=x, width_mm=SIDE_MM, height_mm=SIDE_MM, up_mm=0.0) for x in (0.0, 2400.0)
    ]
    box = Body(name="box", strips=12, corner_pct=corner_pct, stations=ends)
    rows, par = body_arrays(box, [], 0.3, SPEED)
    loads, phi = np.zeros(6), np.radians(degrees)
    body_loads(
        0.0, SPEED * np.sin(phi), SPEED * np.cos(phi), 0.0, 0.0, 0.0, DENSITY, rows, par, loads
    )
    table = tables.body_model()
    share = np.interp(2400.0 / SIDE_MM, table.length_ratio, table.length_share)
    return loads[1] / (0.5 * DENSITY * SPEED**2 * 2.4 * SIDE_MM * 1e-3) / share


def rows():
    yield from each(SOURCE, "polynomial, square, Re 22,300", (
        (f"square body, cross-flow {a}° off its side: side force", float(polynomial(a)),
         lambda a=a: side_force(a))
        for a in (3, 6, 9, 12, 14)
    ), absolute(QUARTER_OF_THE_PEAK), "from memory", made_from=TABLE)  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_it_drives_near_the_side_and_holds_beyond():
    assert side_force(8.0) > 0.0 > side_force(30.0)


def test_a_round_body_never_drives():
    assert all(side_force(a, 100.0) < 0.0 for a in (2.0, 5.0, 10.0, 20.0, 45.0, 80.0))


def test_the_rounder_the_less_it_drives():
    peaks = [max(side_force(a, corner) for a in range(1, 25)) for corner in (0.0, 20.0, 50.0)]
    assert peaks[0] > peaks[1] > peaks[2] > 0.0
