"""Spins brought to one scale by Froude's law: C. H. Wolowicz and others, NASA TP-1435 (1979).

Length 1/n, rate times sqrt n, speed over sqrt n, inertia over n⁵ at equal air density. The
spins are of the bundled aeroplanes, sticks held full aft with full rudder at idle.
"""

from functools import lru_cache
from math import radians, sqrt
from types import SimpleNamespace
from typing import NamedTuple

import numpy as np
import pytest

from sim.core.layout import (
    F_AREA,
    F_AREA_ETA2,
    F_SPAN,
    S_AREA,
    S_CHORD,
    S_RX,
    S_RY,
    S_RZ,
    X_POS,
    X_QUAT,
    X_RATE,
    X_VEL,
)
from sim.core.motion.integrate import rk4_step, scratch
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from sim.spin.scale import froude_scaled, published_spins, scale_of
from tests.conftest import held_spin, mass_row
from tests.validation.jets import jet_at
from tests.validation.rows import absolute, band, cases, check, each, relative
from tests.validation.wings import measured_wing

SOURCE = "wolowicz1979"
SCALE = 7.455  # a light aeroplane of 24.46 ft to 1 m of span
TABLE = "spin_reference.csv: rate_low_dps, rate_high_dps, sink_low_mps, sink_high_mps"
COMPARED = "the table of measured spins is what a flown one is compared with; nothing flies by it"
STEEP = (
    "the sport model settles in a steep spin of 29°; the research aeroplane's four tails were made "
    "to spin flatter, and its balance and inertias for them are not known"
)
LIGHT = (
    "Froude's law asks for equal relative density; the sport model's is 3.4, the trainer's 11 "
    "(from memory), so that at equal drag it sinks at 0.55 of the scaled speed"
)
SLOW = (
    "as much as it spins steeper than the research aeroplane, whose four tails were made to spin "
    "flatter; its balance and inertias are not known"
)


class Developed(NamedTuple):
    """A developed spin: angle of attack [deg], rate [deg/s], sink [m/s], omega b/2V, span [m]."""

    alpha_deg: float
    rate_dps: float
    sink_mps: float
    reduced: float
    span_m: float


def developed(jet, seconds=30.0, over=400):
    """Return the mean over the last 4 s of a held spin to the right."""
    states = held_spin(jet, jet.model, 1.0).fly(seconds)
    last = states[-over:]
    u, w = last[:, X_VEL], last[:, X_VEL + 2]
    rate = np.linalg.norm(last[:, X_RATE : X_RATE + 3], axis=1).mean()
    speed = np.linalg.norm(last[:, X_VEL : X_VEL + 3], axis=1).mean()
    span = jet.weighed.reference.span_m
    sink = (last[-1, X_POS + 2] - last[0, X_POS + 2]) / (0.01 * (over - 1))
    alpha = np.degrees(np.arctan2(w, u)).mean()
    return Developed(alpha, np.degrees(rate), sink, rate * span / (2.0 * speed), span)


@lru_cache
def sport():
    return developed(assemble(load_aeroplane("club_sport"), "aerobatic"))


@lru_cache
def rear_jet():
    return developed(jet_at(225.0))


@lru_cache
def scaled_wing(scale):
    """Return roll rate [rad/s] and speed [m/s] of a free wing after 1 s over sqrt scale.

    The plain wing of 2 m span and 12 kg starts just beyond its stall, rolling.
    """
    model = measured_wing().model
    strips, surfaces = model.strips.copy(), model.surfaces.copy()
    strips[[S_RX, S_RY, S_RZ, S_CHORD]] /= scale
    strips[S_AREA] /= scale**2
    surfaces[0, F_SPAN] /= scale
    surfaces[0, [F_AREA, F_AREA_ETA2]] /= scale**2
    mass = mass_row(12.0 / scale**3, np.diag([1.5, 2.5, 3.5]) / scale**5)
    model = model._replace(strips=strips, surfaces=surfaces, mass=mass)
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[X_QUAT] = 1.0
    alpha, root = radians(14.0), sqrt(scale)
    x[[X_VEL, X_VEL + 2]] = np.array([np.cos(alpha), np.sin(alpha)]) * 20.0 / root
    x[X_RATE] = 0.5 * root
    for _ in range(200):
        rk4_step(x, model, inputs, work, 0.005 / root)
    return x[X_RATE], np.linalg.norm(x[X_VEL : X_VEL + 3])


@lru_cache
def published(name):
    """Return a full-size spin of the product's table, scaled to a span of 1 m."""
    return froude_scaled(next(s for s in published_spins() if s.name == name), 1.0)


def table_rows():
    # printed rates scaled by hand, n = 7.455 and 10.18
    where = "145-208 °/s and 24.46 ft; 120-150 °/s, 45.7-61.0 m/s and 33.4 ft; spans from memory"
    scaled = (
        ("light low wing", "rate_dps", "°/s", (396.0, 568.0), 0.5),
        ("trainer", "rate_dps", "°/s", (383.0, 479.0), 0.5),
        ("trainer", "sink_mps", "m/s", (14.3, 19.1), 0.05),
    )
    for name, field, unit, ends, digit in scaled:
        for end, value in zip(("low", "high"), ends, strict=True):
            yield from each(SOURCE, where, [
                (f"{name}'s published spin at 1 m of span: {end} {field[:4]}, {unit}", value,
                 lambda n=name, f=field, e=end: getattr(getattr(published(n), f), e))
            ], absolute(digit), "computed", made_from=TABLE)  # fmt: skip


def mass_rows():
    # slug, ft: mass, span, Ix, Iy
    known = (
        ("stevens2015", "F-16", 1.0 / 1.57e-3, 30.0, 9496.0, 55814.0, -808.0),
        ("nelson1998", "Navion", 2750.0 / 32.17, 33.4, 1048.0, 3000.0, -205.0),
    )
    for source, name, mass, span, ix, iy, value in known:
        yield from each(source, "masses as printed", [
            (f"{name}: (Ix - Iy)/(m b²), 1e-4", value,
             lambda m=mass, b=span, ix=ix, iy=iy: mass_loading(m, b, ix, iy))
        ], absolute(0.5), "computed")  # fmt: skip


def mass_loading(mass, span, ix, iy):
    """Return the product's mass loading [1e-4] of given masses."""
    weighed = SimpleNamespace(
        mass_kg=mass,
        inertia_kg_m2=np.diag([ix, iy, ix + iy]),
        reference=SimpleNamespace(span_m=span, area_m2=1.0),
    )
    return 1e4 * scale_of(SimpleNamespace(weighed=weighed, density=1.0)).mass_loading


def law_rows():
    # the full-size wing falls further, through air that is denser by 1e-4 a metre
    where = "rates times sqrt n, speeds over sqrt n"
    yield from each(SOURCE, where, [
        ("free wing at 1/7.455: roll rate over full size", sqrt(SCALE),
         lambda: scaled_wing(SCALE)[0] / scaled_wing(1.0)[0]),
        ("free wing at 1/7.455: speed over full size", 1.0 / sqrt(SCALE),
         lambda: scaled_wing(SCALE)[1] / scaled_wing(1.0)[1]),
    ], relative(1e-3), "computed")  # fmt: skip


def spin_rows():
    where = "145-208 °/s, to 1 m from 24.46 ft of span (from memory)"
    yield from each("stough1987", where, [
        ("sport model spinning, scaled to 1 m: rate, °/s", (396.0, 568.0),
         lambda: sport().rate_dps * sqrt(sport().span_m)),
    ], band(), "published", SLOW, observed=True, apart=COMPARED)  # fmt: skip
    yield from each("stough1987", "four tails at 40-60°", [
        ("sport model spinning: angle of attack, °", (40.0, 60.0), lambda: sport().alpha_deg),
    ], band(), "published", STEEP, observed=True, apart=COMPARED)  # fmt: skip
    where = "120-150 °/s, 9000-12000 ft/min; span 33.4 ft from memory"
    yield from each("usn_p330", where, [
        ("sport model spinning: omega b/2V", (0.17, 0.29), lambda: sport().reduced),
    ], band(), "published", observed=True, apart=COMPARED)  # fmt: skip
    yield from each("usn_p330", where, [
        ("sport model spinning, scaled to 1 m: sink, m/s", (14.3, 19.1),
         lambda: sport().sink_mps / sqrt(sport().span_m)),
    ], band(), "published", LIGHT, observed=True, apart=COMPARED)  # fmt: skip
    yield from each(SOURCE, "fuselage-loaded fighters spin flat near 0.1; factor 2", [
        ("display jet spinning, balanced at 225 mm: omega b/2V", (0.05, 0.20),
         lambda: rear_jet().reduced),
    ], band(), "from memory", observed=True, apart=COMPARED)  # fmt: skip


def rows():
    yield from law_rows()
    yield from table_rows()
    yield from mass_rows()
    yield from spin_rows()


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
