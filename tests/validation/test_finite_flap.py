"""Flaps of short wings: limits of lifting-surface theory, ailerons by an independent lattice."""

from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest

import sim
from sim.aero.geometry.lattice import trapezoid
from sim.aero.geometry.lattice_flap import flap_turn
from sim.aero.sections.flaps import flap_effect
from sim.aero.sections.thin_aerofoil import flap_effectiveness
from tests.validation.rows import cases, check, each, relative
from tests.validation.whole_data import deflections

LIGHT = Path(__file__).parent / "light_high_wing.toml"
ALL = (0.0, 1.0)
# an independent horseshoe lattice of 13, 26 and 39 panels along the chord, the hinge on an edge:
# 0.1673, 0.1699, 0.1708, which go as one over the panels' number
LATTICE = 0.1726
ROLL = (
    "16 % too much, as rolling is damped 21 % too much: two terms of the induced angle, and the "
    "plate half's none, turn the air too little where one side lifts more; it lay 7 % low while a "
    "flap's load counted further in than it lies"
)


def flap(aspect_ratio, chordwise, rolling=False):
    """Return what a quarter-chord flap of a rectangular wing turns it, over the section's."""
    chord = 2.0 / aspect_ratio
    return flap_turn(trapezoid(1.0, chord, chord, 0.0), 0.25, ALL, rolling, chordwise, 12)


@lru_cache
def aileron_roll():
    """Return -Cl per radian of the light fighter's wing and ailerons, no loss to viscosity.

    Aspect ratio 3, taper 0.2275, leading edge swept 40 degrees; flaps of 3/13 of the chord from
    27 to 73 % of the half span.
    """
    read = sim.load_aeroplane(LIGHT)
    wing = next(s for s in read.surfaces if s.role == "wing")
    control = wing.controls[0].model_copy(
        update={"inner_pct": 27.0, "outer_pct": 73.0, "chord_pct": 300.0 / 13.0}
    )
    shape = wing.model_copy(
        update={
            "root_right_mm": 0.0, "panel_span_mm": 685.8, "root_chord_mm": 744.9,
            "tip_chord_mm": 169.5, "sweep_deg": 40.0, "dihedral_deg": 0.0, "washout_deg": 0.0,
            "incidence_deg": 0.0, "strips": 24, "controls": (control,),
            "section": wing.section.model_copy(update={"camber_pct": 0.0}),
        }
    )  # fmt: skip
    first = read.setups[read.first_setup]
    placed = first.model_copy(
        update={"balance_aft_mm": None, "pack_aft_mm": read.tray.front_aft_mm}
    )
    ready = sim.assemble(
        read.model_copy(
            update={
                "surfaces": (shape,),
                "airframe": tuple(a for a in read.airframe if a.of == wing.name),
                "setups": {**read.setups, read.first_setup: placed},
            }
        )
    )
    found = sim.coefficients(
        ready, alpha_deg=0.0, deflections_deg=deflections(ready.aeroplane, "aileron", 4.0)
    )
    kept = flap_effect(3.0 / 13.0, np.radians(20.0)).tau / flap_effectiveness(3.0 / 13.0)
    return -float(found.Cl) / (kept * np.radians(4.0))


def rows():
    yield from each("jones1946", "lift goes with the angle of the trailing edge alone", [
        ("aspect ratio 0.05, quarter-chord flap: turn of the wing per radian", 1.0,
         lambda: flap(0.05, 24) * flap_effectiveness(0.25)),
    ], relative(0.03), "computed")  # fmt: skip
    yield from each("glauert1926", "thin-aerofoil theory is the limit of great span", [
        ("aspect ratio 200, quarter-chord flap: turn over the section's", 1.0,
         lambda: flap(200.0, 8)),
    ], relative(0.005), "computed")  # fmt: skip
    yield from each("closed_form", "flat lattice by an independent script", [
        ("aspect ratio 3, swept 40°: rolling moment of ailerons, 1/rad", LATTICE, aileron_roll),
    ], relative(0.05), "computed", ROLL)  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


@pytest.mark.parametrize("aspect_ratio", [3.0, 6.0])
def test_each_half_of_a_rolling_wing_is_a_wing_of_half_the_aspect_ratio(aspect_ratio):
    assert flap(aspect_ratio, 8, rolling=True) == pytest.approx(
        flap(0.5 * aspect_ratio, 8), rel=0.03
    )


def test_it_falls_with_span():
    ratios = [flap(a, 8) for a in (1.0, 2.0, 4.0, 8.0)]
    assert ratios == sorted(ratios, reverse=True)
    assert ratios[-1] > 1.0
