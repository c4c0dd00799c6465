"""Finite wings as the strip build-up makes them: lift slope, downwash, neutral point."""

from math import atan, degrees, pi, radians, tan

import numpy as np
import pytest

from sim.aero.build import build_aero
from sim.aero.choice import TableEnds
from sim.aero.finite_wing import helmbold_slope
from sim.core import layout as k
from sim.core.derivative import offsets
from sim.core.flight import scratch
from sim.core.perturb import copied, moved
from sim.core.statics import place, polar
from sim.describe import Section, Surface

SPEED, DENSITY = 20.0, 1.225
FIVE_PERCENT = 0.05  # a strip model against Helmbold's formula
NO_SPREAD = TableEnds(1.0, 0.05, 1.0, 0.05, 0.05)


def surface(role, span, root, tip, sweep_deg=0.0, aft=0.0):
    """Return a mirrored, plane surface; lengths in m, sweep of the leading edge."""
    return Surface(
        name=role, role=role, mirrored=True, root_aft_mm=1000.0 * aft, root_right_mm=0.0,
        root_up_mm=0.0, panel_span_mm=500.0 * span, root_chord_mm=1000.0 * root,
        tip_chord_mm=1000.0 * tip, sweep_deg=sweep_deg, strips=20,
        section=Section(thickness_pct=10.0, edge="round"),
    )  # fmt: skip


@pytest.fixture(scope="module")
def surfaces_alone(body, display_jet):
    """Builder of a model that is these surfaces and nothing else, about the datum."""

    def of(*surfaces):
        aeroplane = display_jet.aeroplane.model_copy(update={"surfaces": surfaces})
        area = 1e-6 * sum(
            s.panel_span_mm * (s.root_chord_mm + s.tip_chord_mm) for s in surfaces[:1]
        )
        aero = build_aero(aeroplane, {}, 15.0, NO_SPREAD, area)
        model = body(
            1.0, np.eye(3), strips=aero.strips, strip_index=aero.strip_index,
            tables=aero.tables, surfaces=aero.surfaces, pairs=aero.pairs, sources=aero.sources,
        )  # fmt: skip
        model.env[k.E_AIR] = 1.0
        return model, area

    return of


def loads_at(model, alphas_deg, speed=SPEED):
    """Return steady loads (n, 6) at angles of attack."""
    n = len(alphas_deg)
    return polar(
        model, speed, np.radians(alphas_deg), np.zeros(n), np.zeros((n, 3)), np.zeros((n, 4))
    )


def lift_slope(model, area):
    """Return dCL/dalpha [1/rad] at zero, over a node of the tables either way."""
    alphas = np.array([-0.6, 0.6])
    loads = loads_at(model, alphas)
    a = np.radians(alphas)
    lift = loads[:, 0] * np.sin(a) - loads[:, 2] * np.cos(a)
    return (lift[1] - lift[0]) / radians(1.2) / (0.5 * DENSITY * SPEED**2 * area)


# closed forms by an independent script, a0 = 2 pi: aspect ratio, Helmbold = DATCOM
@pytest.mark.parametrize(
    ("ratio", "slope"),
    [(1.0, 1.4833), (1.5, 2.0944), (2.0, 2.6026), (3.0, 3.3627), (4.0, 3.8832), (6.0, 4.5287),
     (8.0, 4.9058)],
)  # fmt: skip
def test_lift_slope_of_straight_wings(surfaces_alone, ratio, slope):
    model, area = surfaces_alone(surface("wing", 1.2, 1.2 / ratio, 1.2 / ratio))
    assert lift_slope(model, area) == pytest.approx(slope, rel=FIVE_PERCENT)


# the same with sweep of the half-chord line: DATCOM 4.1.3.2
@pytest.mark.parametrize(
    ("ratio", "half_chord_deg", "slope"),
    [
        (2.5, 30.0, 2.8498),
        (3.0, 25.0, 3.2126),
        (3.5, 20.0, 3.5312),
        (4.0, 40.0, 3.3106),
    ],
)  # fmt: skip
@pytest.mark.parametrize("taper", [1.0, 0.5])
def test_lift_slope_of_swept_wings(surfaces_alone, ratio, half_chord_deg, slope, taper):
    span = 1.2
    root = 2.0 * span / ratio / (1.0 + taper)
    edge = degrees(atan(tan(radians(half_chord_deg)) + root * (1.0 - taper) / span))
    model, area = surfaces_alone(surface("wing", span, root, taper * root, edge))
    assert lift_slope(model, area) == pytest.approx(slope, rel=FIVE_PERCENT)


def test_damping_in_roll_of_a_finite_wing(surfaces_alone):
    # Each half of the wing rolls like a wing of half the aspect ratio: Clp = -a(AR/2)/6 for
    # a straight wing, a by Helmbold; lifting-line theory of an elliptic wing has its
    # antisymmetric slope a0/(1 + 4/AR), the same to 3 %. 10 % as a truth.
    span, chord, p_hat = 1.2, 0.2, 0.03
    model, area = surfaces_alone(surface("wing", span, chord, chord))
    rates = np.array([[p_hat * 2.0 * SPEED / span, 0.0, 0.0]])
    loads = polar(model, SPEED, np.zeros(1), np.zeros(1), rates, np.zeros((1, 4)))
    clp = loads[0, 3] / (0.5 * DENSITY * SPEED**2 * area * span) / p_hat
    assert clp == pytest.approx(-helmbold_slope(0.5 * span / chord) / 6.0, rel=0.10)


def test_induced_angle(surfaces_alone):
    # CL/(pi AR e) at aspect ratio 6, rectangular: 1 + tau of Glauert's lifting-line chart
    # (H. Glauert, The Elements of Aerofoil and Airscrew Theory, 1926, tau about 0.17 there;
    # from memory), so within 1 and 1.25 of the elliptic wing's CL/(pi AR)
    model, area = surfaces_alone(surface("wing", 1.2, 0.2, 0.2))
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    place(x, model, inputs, work, SPEED, radians(4.0), 0.0, 0.0, 0.0, 0.0, np.zeros(4))
    loads = loads_at(model, [4.0])[0]
    lift = loads[0] * np.sin(radians(4.0)) - loads[2] * np.cos(radians(4.0))
    coefficient = lift / (0.5 * DENSITY * SPEED**2 * area)
    assert 1.0 < x[offsets(model)[2]] / (coefficient / (pi * 6.0)) < 1.25


def test_downwash_at_the_tail(surfaces_alone):
    # DATCOM with aspect ratio 6, taper 0.5, unswept quarter chord, tail level with the
    # wing, arm half a span: 0.4544 (from memory, number computed), 20 % as a truth; and
    # no less than half of the far wake's 2 CLa/(pi AR) = 0.4805 with Helmbold's slope
    span, root, tip = 1.2, 0.26667, 0.13333
    sweep = degrees(atan((root - tip) / 4.0 / (0.5 * span)))
    wing = surface("wing", span, root, tip, sweep)
    tail = surface("tail", 0.4, 0.1, 0.1, 0.0, aft=0.25 * root + 0.5 * span - 0.025)
    model, _ = surfaces_alone(wing, tail)
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    turned = []
    for alpha in (1.0, 3.0):
        place(x, model, inputs, work, SPEED, radians(alpha), 0.0, 0.0, 0.0, 0.0, np.zeros(4))
        turned.append(x[offsets(model)[3]])
    slope = (turned[1] - turned[0]) / radians(2.0)
    assert slope == pytest.approx(0.4544, rel=0.20)
    assert 0.5 * 0.4805 < slope < 1.2 * 0.4805


def test_neutral_point_of_a_straight_wing(surfaces_alone):
    # at a quarter of the chord, thin-aerofoil theory; xNP/c = xcg/c - Cma/CLa
    chord = 0.2
    model, area = surfaces_alone(surface("wing", 1.2, chord, chord))
    loads = loads_at(model, [-1.0, 1.0])
    push = 0.5 * DENSITY * SPEED**2 * area
    cm_alpha = (loads[1, 4] - loads[0, 4]) / push / chord / radians(2.0)
    cn_alpha = -(loads[1, 2] - loads[0, 2]) / push / radians(2.0)
    assert -cm_alpha / cn_alpha == pytest.approx(0.25, abs=0.005)


@pytest.mark.parametrize("aft", [0.01, 0.05, -0.03])
def test_moving_the_balance_point(display_jet, aft):
    # moments about another point: Cma changes by CLa dx/c, here exactly, for the whole
    # jet: dM/dalpha by dx times that of the force normal to the shift
    here = display_jet.model
    there = copied(here)
    moved(there, -aft, 0.0, 0.0)
    alphas = [1.0, 3.0]
    one, other = loads_at(here, alphas), loads_at(there, alphas)
    assert other[:, :3] == pytest.approx(one[:, :3], abs=1e-9)
    change = (other[1, 4] - one[1, 4]) - (other[0, 4] - one[0, 4])
    normal = -(one[1, 2] - one[0, 2])
    assert change == pytest.approx(aft * normal, rel=1e-9)
    # against lift instead of normal force they differ by drag, 1 % or so at small angles
    a = np.radians(alphas)
    lift = one[:, 0] * np.sin(a) - one[:, 2] * np.cos(a)
    assert change == pytest.approx(aft * (lift[1] - lift[0]), rel=0.03)
    yaw = other[:, 5] - one[:, 5]
    assert yaw == pytest.approx(-aft * one[:, 1], abs=1e-9)
