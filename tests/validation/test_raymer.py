"""Radii of gyration, departure criteria: D. P. Raymer, *Aircraft Design: A Conceptual Approach*."""

from functools import lru_cache

import numpy as np
import pytest

from sim.describe import load_aeroplane
from sim.weigh import weigh_set_up
from tests.validation.rows import absolute, cases, check, each, relative
from tests.validation.tunnel import criteria

SOURCE = "raymer"
LEDGER = "the program takes formulas from him; its inertias are the parts' own"
RADII = {
    "display_jet": ("jet fighter", (0.266, 0.346, 0.400)),
    "club_sport": ("light low wing", (0.248, 0.338, 0.393)),
    "twin_delta": ("delta airliner", (0.253, 0.380, 0.390)),
}
# F-16 table, per degree, 0 to 5 deg secants (arithmetic input to output only): alpha, Cnb,
# Clb, Cnb,dyn with Izz/Ixx = 63100/9496
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


@lru_cache
def shares(name):
    """Return radii of gyration over half span, half length and a quarter of their sum."""
    weighed = weigh_set_up(load_aeroplane(name))
    span, length = weighed.reference.span_m, weighed.reference.length_m
    return weighed.radii_of_gyration_m / np.array([span / 2, length / 2, (span + length) / 4])


def f16(cn_beta, cl_beta, alpha_deg):
    """Return Cn_beta,dyn [1/deg] from derivatives per degree."""
    per_rad = np.degrees(1.0)
    return criteria(
        63100.0 / 9496.0, cn_beta * per_rad, cl_beta * per_rad, 0.001, 0.05, float(alpha_deg)
    )[0]


def rows():
    for name, (kind, printed) in RADII.items():
        # a sanity band: the true yaw inertia of a known jet differs by as much
        yield from each(SOURCE, f"pp. 443-444, {kind}", (
            (f"{name}: radius of gyration in {axis}, share", value,
             lambda name=name, i=i: shares(name)[i])
            for i, (axis, value) in enumerate(zip(("roll", "pitch", "yaw"), printed, strict=True))
        ), relative(0.40), "published", observed=True, apart=LEDGER)  # fmt: skip
    yield from each(SOURCE, "eq. 16.66 p. 632 on the table of NASA TP-1538 (from memory)", (
        (f"F-16 Cnb,dyn at {a}°, 1/°", dynamic,
         lambda a=a, cn=cn, cl=cl: f16(cn, cl, a))
        for a, cn, cl, dynamic in F16
    ), absolute(6e-6), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
