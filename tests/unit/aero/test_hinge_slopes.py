"""Hinge moments of attached flow: thin-aerofoil theory, published slopes, a rule of the trade."""

from math import pi, radians, sin, tan

import numpy as np
import pytest

from sim import tables
from sim.aero.geometry.panels import counted_pivot, panels_of, pivot_x
from sim.aero.sections.thin_aerofoil import hinge_slopes
from sim.core import layout as k

OZ_IN = 0.70615  # N cm in an ounce-force inch, by definition
MPH = 0.44704  # m/s in a mile per hour, by definition


def test_flap_of_the_whole_chord_is_the_plate_about_its_leading_edge():
    # lift slope 2 pi at the quarter chord, thin-aerofoil theory (Glauert, Elements of Aerofoil
    # and Airscrew Theory, 1926, ch. VII, from memory): pi/2 about the leading edge
    incidence, flap = hinge_slopes(0.99999)
    assert incidence == pytest.approx(pi / 2.0, rel=0.01)
    assert flap == pytest.approx(pi / 2.0, rel=0.01)


def test_slopes_of_a_quarter_chord_flap_against_published_charts():
    # USAF DATCOM, figures 6.1.3.1-11 and 6.1.3.2-12, theory for no thickness at c_f/c = 0.25:
    # about 0.55 and 0.9 per radian (from memory, read to 0.06)
    incidence, flap = hinge_slopes(0.25)
    assert incidence == pytest.approx(0.55, abs=0.06)
    assert flap == pytest.approx(0.90, abs=0.06)


def test_flap_slope_of_the_table_is_what_wings_keep_of_theory():
    # NACA 0009 with a plain 0.30 chord flap, gap sealed (NACA wartime series of control-surface
    # tests, from memory): 0.0070 and 0.0124 per degree
    by_incidence, by_flap = np.degrees([0.0070, 0.0124])
    theory = hinge_slopes(0.30)
    assert tables.control_model().flap_per_rad == pytest.approx(by_flap, rel=0.4)
    assert tables.control_model().flap_per_rad < theory[1]
    # the ratio of both, by which ours follows the incidence
    assert theory[0] / theory[1] == pytest.approx(by_incidence / by_flap, rel=0.25)


@pytest.mark.parametrize("deg", [15.0, 25.0, 35.0])
def test_torque_against_the_rule_that_modellers_use(deg):
    # common practice, no source (from memory): torque [oz in] = 8.5e-6 C^2 V^2 L sin S tan S/tan S2
    # with chord C and length L in cm, V in mph, surface S and servo S2 turning alike
    chord_cm, length_cm, mph = 5.0, 40.0, 60.0
    angle = radians(deg)
    rule = 8.5e-6 * chord_cm**2 * mph**2 * length_cm * sin(angle) * tan(angle) / tan(angle)
    pressure = 0.5 * 1.225 * (MPH * mph) ** 2
    ours = tables.control_model().flap_per_rad * angle * pressure * (chord_cm / 100.0) ** 2
    ours *= length_cm / 100.0 * 100.0
    # 40 % is what control_model.toml states of its slope
    assert ours == pytest.approx(rule * OZ_IN, rel=0.4)


def test_pivot_lies_where_the_tails_mean_chord_says(display_jet):
    # a share of the mean aerodynamic chord, which starts aft of the root's leading edge on a
    # swept tail: geometry
    tail = next(x for x in display_jet.aeroplane.surfaces if x.name == "tail")
    panel = panels_of(tail)[0]
    front, back = pivot_x(panel, 0.0), pivot_x(panel, 100.0)
    assert panel.point(1.0, 0.0)[0] < front < panel.point(0.0, 0.0)[0]
    assert panel.tip_chord < front - back < panel.root_chord


def test_a_pivot_counts_further_from_the_quarter_chord_than_drilled(display_jet):
    # on the side that asks more of the servo, by what control_model.toml says of the mean chord
    tail = next(x for x in display_jet.aeroplane.surfaces if x.name == "tail")
    panel, control = panels_of(tail)[0], tail.controls[0]
    by = tables.control_model().arm_share * panel.area / panel.span
    for stated, counted in ((20.0, by), (25.0, by), (30.0, -by)):
        drilled = control.model_copy(update={"pivot_pct": stated})
        moved = counted_pivot(panel, drilled) - pivot_x(panel, stated)
        assert moved == pytest.approx(counted)


def test_strips_of_a_flap_add_up_to_its_area_times_its_chord(display_jet):
    # geometry: the integral of its chord squared over its span
    fin = next(x for x in display_jet.aeroplane.surfaces if x.name == "fin")
    panel, control = panels_of(fin)[0], fin.controls[0]
    t = np.linspace(control.inner_pct / 100.0, control.outer_pct / 100.0, 2001)
    chords = control.chord_pct / 100.0 * np.array([panel.chord(x) for x in t])
    wanted = np.trapezoid(chords**2, t) * panel.span
    index = display_jet.model.strip_index
    mine = index[k.SI_CHANNEL] == display_jet.aero.channels["rudder", 0.0]
    assert display_jet.model.strips[k.S_HINGE, mine].sum() == pytest.approx(wanted, rel=0.01)
