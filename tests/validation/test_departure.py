"""Departure criteria against arithmetic on published derivatives.

D. P. Raymer, *Aircraft Design: A Conceptual Approach*, eq. 16.65-16.66, p. 632:
LCDP = Cnb - Clb Cnda/Clda; Cnb,dyn = Cnb cos a - (Izz/Ixx) Clb sin a.
"""

from types import SimpleNamespace

import numpy as np
import pytest

import sim.fly.trimming as trimming

AREA, SPAN, DENSITY, SPEED = 1.3, 1.7, 1.225, 25.0
PUSH = 0.5 * DENSITY * SPEED**2 * AREA * SPAN


def aeroplane(ratio):
    """Return what the criteria read of an aeroplane, with Izz/Ixx = ratio."""
    return SimpleNamespace(
        weighed=SimpleNamespace(
            reference=SimpleNamespace(area_m2=AREA, span_m=SPAN),
            inertia_kg_m2=np.diag([0.1, 0.2, 0.1 * ratio]),
        ),
        density=DENSITY,
        model=None,
    )


def tunnel(cn_beta, cl_beta, cn_aileron, cl_aileron):
    """Return a wind tunnel that measures linear derivatives (per rad, per stick)."""

    def polar(_model, _speed, alphas, betas, _rates, sticks):
        loads = np.zeros((alphas.size, 6))
        loads[:, 3] = PUSH * (cl_beta * betas + cl_aileron * sticks[:, 1])
        loads[:, 5] = PUSH * (cn_beta * betas + cn_aileron * sticks[:, 1])
        loads[:, 4] = -sticks[:, 0]
        return loads

    return polar


def test_navion(monkeypatch):
    # R. C. Nelson, app. B, per rad: Cnb .071, Clb -.074, Clda -.134, Cnda -.0035;
    # Izz/Ixx = 3530/1048. Computed: Cnb,dyn at 0, 10, 20, 30 deg; LCDP .072933
    monkeypatch.setattr(trimming, "polar", tunnel(0.071, -0.074, -0.0035, -0.134))
    dynamic, lcdp = trimming.departure_criteria(
        aeroplane(3530.0 / 1048.0), np.array([0.0, 10.0, 20.0, 30.0]), SPEED
    )
    per_rad = np.degrees(1.0)
    assert dynamic * per_rad == pytest.approx([0.071, 0.113204, 0.151969, 0.186116], abs=5e-7)
    assert lcdp * per_rad == pytest.approx([0.072933] * 4, abs=5e-7)


# F-16 table, per degree, 0 to 5 deg secants (L. T. Nguyen et al., NASA TP-1538, 1979, from
# memory; arithmetic input to output only): alpha, Cnb, Clb, Cnb,dyn with Izz/Ixx = 63100/9496
F16 = [
    (0, 0.0036, -0.0016, 0.00360),
    (10, 0.0038, -0.0032, 0.00743),
    (20, 0.0026, -0.0044, 0.01244),
    (25, 0.0014, -0.0042, 0.01306),
    (30, 0.0008, -0.0030, 0.01066),
    (35, -0.0028, -0.0016, 0.00380),
    (40, -0.0034, -0.0026, 0.00850),
    (45, -0.0066, -0.0030, 0.00943),
]


@pytest.mark.parametrize(("alpha", "cn_beta", "cl_beta", "dynamic"), F16)
def test_f16(monkeypatch, alpha, cn_beta, cl_beta, dynamic):
    per_rad = np.degrees(1.0)
    wind = tunnel(cn_beta * per_rad, cl_beta * per_rad, 0.001, 0.05)
    monkeypatch.setattr(trimming, "polar", wind)
    found, _ = trimming.departure_criteria(
        aeroplane(63100.0 / 9496.0), np.array([float(alpha)]), SPEED
    )
    assert found[0] == pytest.approx(dynamic, abs=6e-6)


def test_no_aileron_has_no_lcdp(monkeypatch):
    monkeypatch.setattr(trimming, "polar", tunnel(0.07, -0.07, 0.0, 0.0))
    _, lcdp = trimming.departure_criteria(aeroplane(3.0), np.array([5.0]), SPEED)
    assert np.isnan(lcdp[0])


def test_the_jet_stands_up_to_its_own_definition(display_jet):
    # at zero sideslip-coupling angle Cnb,dyn is Cnb itself, so positive for a jet that
    # weathercocks; and its dihedral and sweep help it at 15 degrees
    dynamic, lcdp = trimming.departure_criteria(display_jet, np.array([0.0, 15.0]), 20.0)
    assert np.all(np.isfinite(lcdp))
    assert dynamic[0] > 0.0
