"""Plates, wings and cylinders across the flow: S. F. Hoerner (1965) and others of the kind."""

import numpy as np
import pytest

from sim import tables
from sim.aero.geometry.fuselage import body_arrays
from sim.aero.sections.plates import plate_table
from sim.core.loads.body import body_loads
from sim.core.loads.lookup import CN
from sim.describe import Body, Station
from tests.validation.curves import at, drag, naca0015, symmetric
from tests.validation.rows import band, cases, check, each, relative

SOURCE = "hoerner1965"
BODY_TABLE = "body_model.toml: cross_flow_drag"
EIFFEL = "the square plate's CD alone is his; how it grows with aspect ratio is Eiffel's"
EVEN = "the program takes from it that the pressure behind a plate is even, not how great"
VITERNA = "of sections he gives the program the form factor only; this is SAND80-2114 and Viterna"
DENSITY = 1.225  # kg/m³, U.S. Standard Atmosphere 1976, sea level
SHARP = "a sharp section keeps the 1.80 across the flow that was measured for the NACA 0015"


def drag_across(width_mm, height_mm, corner_pct, speed):
    """Return CD of an endless tube with the flow from its side, on its height."""
    ends = [
        Station(aft_mm=x, width_mm=width_mm, height_mm=height_mm, up_mm=0.0)
        for x in (-1200.0, 1200.0)
    ]
    tube = Body(name="tube", strips=12, corner_pct=corner_pct, stations=ends)
    rows, par = body_arrays(tube, [], 0.3, speed)
    loads = np.zeros(6)
    body_loads(0.0, speed, 0.0, 0.0, 0.0, 0.0, DENSITY, rows, par, loads)
    table = tables.body_model()
    ratio = 2400.0 / (0.5 * (width_mm + height_mm))
    share = np.interp(ratio, table.length_ratio, table.length_share)  # finite length
    return -loads[1] / (0.5 * DENSITY * speed**2 * 2.4e-3 * height_mm) / share


def rows():
    where = "ch. III fig. 28-30"
    for ar, cd in ((1, 1.17), (5, 1.2), (10, 1.3), (20, 1.5)):
        yield from each(SOURCE, where, [
            (f"plate of aspect ratio {ar} across the flow: CD", cd,
             lambda ar=ar: at(plate_table(float(ar), float(ar)), 90.0, CN))
        ], relative(0.1), "from memory", observed=True, apart=EIFFEL,
        made_from="plate_model.toml: square_cd90" if ar == 1 else "")  # fmt: skip
    yield from each(SOURCE, where, (
        (f"wing of aspect ratio {ar} across the flow: CD", cd,
         lambda ar=ar: drag(naca0015(200000, ar), 90.0))
        for ar, cd in ((5, 1.2), (10, 1.3), (20, 1.5))
    ), relative(0.1), "from memory", observed=True, apart=VITERNA)  # fmt: skip
    two_d = "sharp section across the flow: CD"
    sharp = lambda: drag(symmetric(6.0, 200000, np.inf, "sharp"), 90.0)  # noqa: E731
    yield from each(SOURCE, "two-dimensional plate, 1.98 to 2.0", [
        (two_d, (1.98, 2.0), sharp)
    ], band(0.2), "from memory", observed=True, apart=VITERNA)  # fmt: skip
    yield from each("houghton", "p. 264", [
        (two_d + " (Houghton)", 1.95, sharp)
    ], relative(0.1), "published", observed=True)  # fmt: skip
    yield from each("fage1927", "two-dimensional plate at 90°", [
        (two_d + " (Fage)", 2.13, sharp)
    ], relative(0.1), "from memory", SHARP, observed=True, apart=EVEN)  # fmt: skip
    yield from each("wieselsberger1921", "Re 1e4 to 2e5; also Hoerner", [
        ("cylinder across the flow, Re 160,000: CD", 1.2,
         lambda: drag_across(120.0, 120.0, 100.0, 20.0))
    ], relative(0.1), "from memory", made_from=BODY_TABLE)  # fmt: skip
    yield from each("roshko1961", "after transition the drag lies between 0.2 and 0.4", [
        ("cylinder across the flow, Re 1,000,000: CD", (0.2, 0.4),
         lambda: drag_across(120.0, 120.0, 100.0, 122.0))
    ], band(), "published", made_from="body_model.toml: drag_past_critical")  # fmt: skip
    yield from each("nakaguchi1968", "square cylinder, Re to 60,000", [
        ("square cylinder across the flow: CD", 2.0, lambda: drag_across(60.0, 60.0, 0.0, 10.0))
    ], relative(0.1), "published", made_from=BODY_TABLE)  # fmt: skip
    yield from each("nakaguchi1968", "peak at depth/height 2/3", [
        ("cylinder two thirds as deep as high: CD", 2.6,
         lambda: drag_across(40.0, 60.0, 0.0, 10.0))
    ], relative(0.1), "published", made_from="body_model.toml: depth_drag")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
