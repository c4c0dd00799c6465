"""Sections and plates to ±180° against measurements and closed forms."""

import numpy as np
import pytest

from sim.aero.flaps import flap_effect
from sim.aero.plates import plate_normal_force_90, plate_table
from sim.aero.sections import section_table
from sim.aero.separated import (
    StallPoint,
    centre_of_pressure,
    rayleigh_normal_force,
    viterna_corrigan,
    viterna_drag_at_90,
)
from sim.aero.tables import read_csv
from sim.aero.thin_aerofoil import camber_effect, flap_effectiveness, flap_moment
from sim.core.lookup import CC, CM, CN, alpha_of_coordinate, grid

ALPHA_DEG = np.degrees(alpha_of_coordinate(grid()))


def at(table, degrees, column):
    return np.interp(degrees, ALPHA_DEG, table[:, column])


def lift(table, degrees):
    radians = np.radians(degrees)
    return at(table, degrees, CN) * np.cos(radians) + at(table, degrees, CC) * np.sin(radians)


def drag(table, degrees):
    radians = np.radians(degrees)
    return at(table, degrees, CN) * np.sin(radians) - at(table, degrees, CC) * np.cos(radians)


def naca0015(reynolds, aspect_ratio=np.inf):
    return section_table(15.0, 0.0, "round", reynolds, aspect_ratio)


# R. E. Sheldahl, P. C. Klimas, SAND80-2114 (1981), NACA 0015: Re, alpha and CL of the
# first peak, CD at 0. Tolerances: CLmax 15 %, stall 2° (published low-Re sets differ by
# as much); CD at 0 is the table's own printed digit.
PEAKS = [
    (80000, 8, 0.7189, 0.0147),
    (160000, 10, 0.8322, 0.0116),
    (360000, 11, 0.9572, 0.0091),
    (700000, 12, 1.0508, 0.0077),
    (1000000, 12, 1.0971, 0.0074),
]


@pytest.mark.parametrize(("reynolds", "peak_deg", "peak", "drag0"), PEAKS)
def test_stall_of_naca0015(reynolds, peak_deg, peak, drag0):
    table = naca0015(reynolds)
    degrees = np.linspace(0.0, 16.0, 321)
    curve = lift(table, degrees)
    first = int(np.argmax(curve[:-1] > curve[1:]))
    assert curve[first] == pytest.approx(peak, rel=0.15)
    assert degrees[first] == pytest.approx(peak_deg, abs=2.0)
    assert drag(table, 0.0) == pytest.approx(drag0, abs=5e-5)


def test_attached_slope():
    # SAND80-2114: 0.11 per deg, two printed digits; the model's 2 pi is 0.1097
    table = naca0015(360000)
    assert (lift(table, 3.0) - lift(table, -3.0)) / 6.0 == pytest.approx(0.11, abs=0.005)


# SAND80-2114, NACA 0015, any Re, CN = CL cos + CD sin
SAND_CN = [
    (30, 1.025), (45, 1.503), (60, 1.711), (75, 1.805), (90, 1.800),
    (105, 1.725), (120, 1.604), (135, 1.425), (150, 0.954),
]  # fmt: skip


@pytest.mark.parametrize(("degrees", "normal"), SAND_CN)
@pytest.mark.parametrize("reynolds", [80000, 200000, 1000000])
def test_normal_force_past_the_stall(degrees, normal, reynolds):
    # tolerance 0.15: SAND80-2114 against NACA TN 3361 and other sets
    assert at(naca0015(reynolds), degrees, CN) == pytest.approx(normal, abs=0.15)


def test_drag_across_the_flow():
    # SAND80-2114 1.80; NACA TN 3361 (1955) 2.08 for the NACA 0012 at Re 1.8e6
    assert drag(naca0015(200000), 90.0) == pytest.approx(1.8, abs=0.2)


@pytest.mark.parametrize("edge", ["round", "sharp"])
@pytest.mark.parametrize("reynolds", [40000, 160000, 1000000])
def test_free_streamline_plate_is_the_lower_bound(edge, reynolds):
    # Rayleigh 1876: CN of a 2-D plate without base suction; a 2-D section below is wrong
    degrees = np.linspace(0.5, 170.0, 340)
    table = section_table(10.0, 0.0, edge, reynolds, np.inf)
    assert np.all(at(table, degrees, CN) > rayleigh_normal_force(np.radians(degrees)))


def test_rayleigh_table():
    # the closed form as tabulated and verified by quadrature, five printed digits
    columns = read_csv("plate_free_streamline_rayleigh.csv").columns
    found = rayleigh_normal_force(np.radians(columns["alpha_deg"]))
    np.testing.assert_allclose(found, columns["CN"], atol=1e-5)


# L. A. Viterna, R. D. Corrigan (1981), evaluated by an independent script: alpha, CL, CD
VITERNA = {
    (10, 15, 1.2, 0.02): [
        (20, 1.04306, 0.08629), (30, 0.92372, 0.26296), (45, 0.81712, 0.59638),
        (60, 0.62886, 0.93312), (90, 0.0, 1.29),
    ],
    (5, 12, 0.9, 0.05): [
        (20, 0.75369, 0.13857), (30, 0.73343, 0.29834), (45, 0.70079, 0.59865),
        (60, 0.56076, 0.89904), (90, 0.0, 1.20),
    ],
}  # fmt: skip


@pytest.mark.parametrize("case", VITERNA)
def test_viterna_corrigan(case):
    aspect_ratio, stall_deg, stall_lift, stall_drag = case
    stall = StallPoint(np.radians(stall_deg), stall_lift, stall_drag)
    for degrees, cl, cd in VITERNA[case]:
        found = viterna_corrigan(np.radians(degrees), viterna_drag_at_90(aspect_ratio), stall)
        np.testing.assert_allclose(found, (cl, cd), atol=1e-5)
    assert viterna_drag_at_90(50.0) == pytest.approx(2.01, abs=1e-12)


def test_lift_over_drag_past_the_stall_does_not_know_aspect_ratio():
    # W. A. Timmer, TORQUE 2010, abstract: sections with leading-edge separation, 30-80°
    degrees = np.arange(32.0, 81.0, 2.0)
    two_d, wing = naca0015(200000), naca0015(200000, 4.4)
    ratio = (lift(wing, degrees) / drag(wing, degrees)) / (
        lift(two_d, degrees) / drag(two_d, degrees)
    )
    np.testing.assert_allclose(ratio, 1.0, rtol=1e-3)
    assert np.all(at(wing, degrees, CN) < at(two_d, degrees, CN))


@pytest.mark.parametrize(("aspect_ratio", "cd"), [(5, 1.2), (10, 1.3), (20, 1.5)])
def test_wing_across_the_flow(aspect_ratio, cd):
    # Hoerner, Fluid-Dynamic Drag (1965) ch. III fig. 28-30, from memory; 10 %
    assert drag(naca0015(200000, aspect_ratio), 90.0) == pytest.approx(cd, rel=0.1)


@pytest.mark.parametrize(("aspect_ratio", "cd"), [(1, 1.17), (5, 1.2), (10, 1.3), (20, 1.5)])
def test_plate_across_the_flow(aspect_ratio, cd):
    # Hoerner as above; Eiffel 1910 p. 42 for the ratios; 10 %
    assert plate_normal_force_90(aspect_ratio) == pytest.approx(cd, rel=0.1)


# Band of the centre of pressure in separated flow: between Rayleigh's plate (exact for
# its model) and C. Lindenburg's rule 0.368 + a/600° (DOWEC 10046_009)
CENTRE_BAND = [
    (30, 0.38, 0.42),
    (45, 0.41, 0.465),
    (60, 0.44, 0.485),
    (90, 0.49, 0.52),
    (150, 0.61, 0.62),
]


@pytest.mark.parametrize(("degrees", "low", "high"), CENTRE_BAND)
def test_centre_of_pressure(degrees, low, high):
    assert low <= centre_of_pressure(np.radians(degrees)) <= high
    tables = [naca0015(200000), naca0015(200000, 4.4)]
    if 45 <= degrees <= 135:  # a plate of aspect ratio 3 is fully separated only here
        tables.append(plate_table(4.0, 3.0))
    for table in tables:
        centre = 0.25 - at(table, degrees, CM) / at(table, degrees, CN)
        assert low <= centre <= high


def test_moment_breaks_at_the_stall():
    # SAND80-2114 NACA 0012, tunnel Re 3.6e5, 0-20°: scatter 0.03
    columns = read_csv("naca0012_cm_sand80-2114_0-20deg.csv").columns
    table = section_table(12.0, 0.0, "round", 3.6e5, np.inf)
    found = at(table, columns["alpha_deg"], CM)
    np.testing.assert_allclose(found, columns["CM_Re360000"], atol=0.03)


@pytest.mark.xfail(
    strict=True,
    reason="the measured moments of the NACA 0021 put its centre of pressure at 0.33 of chord "
    "at 30-40°, outside the 0.38-0.42 of plates and of Lindenburg's rule, which the model "
    "holds; and its stall comes at 16°, 5° after that of the thinner base section",
)
def test_moment_of_a_thick_section():
    # SAND80-2114 NACA 0021, tunnel Re 3.6e5, 0-40°: scatter 0.03
    columns = read_csv("naca0021_cm_sand80-2114_0-40deg.csv").columns
    table = section_table(21.0, 0.0, "round", 3.6e5, np.inf)
    found = at(table, columns["alpha_deg"], CM)
    np.testing.assert_allclose(found, columns["CM_Re360000"], atol=0.03)


# G. Eiffel 1910 p. 48: ratio to the 90° value at the first maximum, and its angle.
# Ratio within 13 %, the least difference to other low-Re measurements at 20°.
EIFFEL_PEAKS = [(1.0, 1.45, 37.0), (1.5, 1.10, 26.0), (2.0, 0.93, 21.0), (3.0, 0.77, 20.0)]


@pytest.mark.parametrize(("aspect_ratio", "ratio", "degrees"), EIFFEL_PEAKS)
def test_plates_peak_as_measured(aspect_ratio, ratio, degrees):
    table = plate_table(aspect_ratio, aspect_ratio)
    near = np.abs(ALPHA_DEG - degrees) < 8.0
    curve = table[near, CN] / at(table, 90.0, CN)
    inner = (curve[1:-1] >= curve[:-2]) & (curve[1:-1] > curve[2:])
    peak = int(np.argmax(inner)) + 1
    assert inner.any()
    assert curve[peak] == pytest.approx(ratio, rel=0.13)
    assert ALPHA_DEG[near][peak] == pytest.approx(degrees, abs=3.0)


@pytest.mark.parametrize("row", range(4))
def test_plates_before_the_peak(row):
    # Eiffel 1910 p. 48; 25 %: at 6° the low-aspect-ratio slopes of theory lie below his
    columns = read_csv("eiffel_plates_inclined.csv").columns
    aspect_ratio = columns["aspect_ratio"][row]
    table = plate_table(aspect_ratio, aspect_ratio)
    for degrees, name in ((6, "CN_over_CN90_at_6deg"), (12, "at_12deg"), (20, "at_20deg")):
        ratio = at(table, degrees, CN) / at(table, 90.0, CN)
        assert ratio == pytest.approx(columns[name][row], rel=0.25)


@pytest.mark.parametrize(("aspect_ratio", "slope"), [(1, 1.4833), (1.5, 2.0944), (2, 2.6026)])
def test_plate_slope_is_helmbolds(aspect_ratio, slope):
    # closed form; 5 %: a chord through ±1° of a curve with a quadratic side-edge part
    table = plate_table(aspect_ratio, aspect_ratio)
    step = np.radians(0.5)
    assert at(table, 0.5, CN) / step == pytest.approx(slope, rel=0.05)


def test_camber_line_theory():
    # Abbott & von Doenhoff, thin-aerofoil theory of the NACA 24xx mean line (from
    # memory: zero lift -2.08°, moment -0.053)
    effect = camber_effect(2.0, 0.4)
    assert np.degrees(effect.zero_lift) == pytest.approx(-2.08, abs=0.01)
    assert effect.moment == pytest.approx(-0.053, abs=5e-4)
    table = section_table(12.0, 2.0, "round", 3.6e5, np.inf)
    assert lift(table, -2.0772) == pytest.approx(0.0, abs=2e-3)
    assert at(table, 0.0, CM) == pytest.approx(-0.0531, abs=1e-3)


def test_flap_theory():
    # Glauert: a quarter-chord flap has cos theta = -1/2, theta = 120°
    root3 = np.sqrt(3.0)
    assert flap_effectiveness(0.25) == pytest.approx(1.0 / 3.0 + root3 / (2.0 * np.pi), rel=1e-12)
    assert flap_moment(0.25) == pytest.approx(-3.0 * root3 / 8.0, rel=1e-12)
    assert flap_effectiveness(1.0) == pytest.approx(1.0)
    assert flap_effectiveness(0.0) == pytest.approx(0.0, abs=1e-12)


def test_flaps_lose_effect_with_deflection():
    small, large = flap_effect(0.25, np.radians(5.0)), flap_effect(0.25, np.radians(-40.0))
    assert flap_effectiveness(0.25) > small.tau > large.tau > 0.0
    assert flap_moment(0.25) < small.delta_cm < large.delta_cm < 0.0
    assert flap_effect(1.0, 0.2) == (1.0, 0.0)
