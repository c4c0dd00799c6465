"""A measured 9 x 6.75 in propeller of two blades against blade elements, second-hand figures.

The program knows a blade by its chords and one helix pitch; the measured blade's own angles
are 18.8° at three quarters of the radius, where 6.75 in of pitch give 17.7°, and 14.0° at
95 %, where they give 14.1°.
"""

from functools import lru_cache

import pytest

from sim.describe.power import PropellerUnit
from sim.power.propeller import propeller_table, thrust_and_power
from tests.validation.rows import absolute, cases, check, each, relative

SOURCE = "small_propellers"
INCH_MM = 25.4
# J, CT at 4050 rpm
MOVING = [(0.152, 0.1231), (0.307, 0.1074), (0.466, 0.0855), (0.626, 0.0562), (0.786, 0.0223)]
FLAT = (
    "one helix pitch gives the blade 17.7° at three quarters of the radius instead of its own "
    "18.8°, so that it makes less thrust and takes less power standing still"
)
LATE = (
    "the section's lift vanishes at -4.5° to its flat face (propeller_section.toml, 1°), so "
    "thrust lasts to J 0.93 where the measured blade's ends at 0.87"
)


@lru_cache
def propeller():
    """Return the table of the propeller; chords of the measured blade at five radii."""
    return propeller_table(
        PropellerUnit(
            diameter_mm=9.0 * INCH_MM, pitch_mm=6.75 * INCH_MM, blades=2,
            radii_pct=[15.0, 30.0, 35.0, 90.0, 95.0, 100.0],
            chord_pct_of_diameter=[5.99, 8.45, 8.88, 8.96, 8.46, 0.77],
            rotor_inertia_kgm2=1e-5, rotates="clockwise",
        )
    )  # fmt: skip


def rows():
    yield from each(SOURCE, "standing still near 4000 rpm; 5 %", [
        ("9 x 6.75 in propeller standing still: CT", 0.135,
         lambda: thrust_and_power(propeller(), 0.0)[0]),
        ("9 x 6.75 in propeller standing still: CP", 0.081,
         lambda: thrust_and_power(propeller(), 0.0)[1]),
    ], relative(0.05), "published", FLAT, observed=True)  # fmt: skip
    for advance, thrust in MOVING:
        yield from each(SOURCE, "4050 rpm; 0.006 of CT", [
            (f"9 x 6.75 in propeller at J {advance}: CT", thrust,
             lambda j=advance: thrust_and_power(propeller(), j)[0])
        ], absolute(0.006), "published", LATE if advance > 0.4 else "", observed=True)  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
