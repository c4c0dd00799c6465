"""A flap on separated flow against free streamlines past a bent plate (Lamb 1932)."""

import numpy as np
import pytest

from sim import tables
from sim.aero.sections.flaps import separated_flap
from sim.aero.sections.separated import rayleigh_normal_force
from sim.aero.sections.thin_aerofoil import cavity_flap
from tests.validation.bent_plate import bent_at, bent_plate, per_radian
from tests.validation.rows import absolute, cases, check, each

SOURCE = "rayleigh1876"
AT_DEG = (20.0, 30.0, 45.0, 60.0)
# of the slope at 0, normal force and moment, by share of the chord: powers of the share of air
# along the chord are a fit, the moment's is the poorer the longer the flap
ROUND = {0.2: (0.02, 0.003), 0.35: (0.02, 0.003), 0.5: (0.02, 0.007)}


def ours(degrees, share):
    """Return CN and minus CM about c/4 per radian of flap, as the kernel has them, unit level."""
    flap = separated_flap(share)
    along = np.cos(np.radians(degrees)) / (
        np.cos(np.radians(degrees)) + np.sin(np.radians(degrees))
    )
    left = tables.flap_effect().separated_share
    return along * (flap.normal + along * flap.squared) / left, -along * flap.moment / left


def rows():
    for share, errors in ROUND.items():
        whole = 0.5 * np.pi * cavity_flap(share)
        for part, name, error in zip((0, 1), ("CN", "-CM about c/4"), errors, strict=True):
            yield from each(SOURCE, "free streamlines past a bent plate, by its hodograph", (
                (f"flap of {100 * share:g} % at {a:g}°, ambient wake: {name} per radian",
                 per_radian(np.radians(a), share)[part],
                 lambda a=a, share=share, part=part: ours(a, share)[part])
                for a in AT_DEG
            ), absolute(error * whole), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


@pytest.mark.parametrize("degrees", [10.0, 30.0, 60.0, 90.0])
def test_an_unbent_plate_is_rayleighs(degrees):
    # Lord Rayleigh, On the Resistance of Fluids, Phil. Mag. (1876): 2 pi sin a/(4 + pi sin a)
    flat = bent_at(np.radians(degrees), 1e-9, 2.0 if degrees < 90.0 else 2.5)
    assert flat.ahead + flat.tail == pytest.approx(
        rayleigh_normal_force(np.radians(degrees)), abs=1e-5
    )


@pytest.mark.parametrize("share", [0.15, 0.25, 0.4])
def test_at_small_angles_a_flap_is_worth_what_linearised_theory_has(share):
    # M. P. Tulin, supercavitating flow past foils (1955), the theory: the slope at 0, from 2 and 4
    # degrees on a straight line, as the square of the angle is what it leaves out
    near, far = (per_radian(np.radians(a), share, np.radians(0.2))[0] for a in (2.0, 4.0))
    assert 2.0 * near - far == pytest.approx(0.5 * np.pi * cavity_flap(share), rel=0.02)


def test_a_flap_bent_into_the_air_catches_more_than_one_bent_away():
    # common practice, no source: a cup holds more air than a dome
    cup, dome = (bent_plate(0.5 * np.pi, np.radians(a), 0.25) for a in (20.0, -20.0))
    assert cup.ahead + cup.tail > dome.ahead + dome.tail
