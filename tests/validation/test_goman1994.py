"""Partly separated flow and its lag: M. Goman, A. Khrabrov (1994).

CL over that of attached flow is ((1 + sqrt f)/2)², Kirchhoff's, f the attached share of the
chord; tau1 df/dt + f = f0(alpha - tau2 dalpha/dt). The lag is measured on a strip that
turns without forces, so fast that gravity does not bend its path and dalpha/dt is the pitch rate.
"""

import numpy as np
import pytest

from sim.aero.sections.branches import Branch, assemble
from sim.core import layout as k
from sim.core.loads.lookup import (
    CN,
    DCN,
    G0,
    N_COLUMNS,
    N_S,
    X0,
    alpha_of_coordinate,
    attached_share,
    grid,
)
from sim.core.motion.integrate import rk4_step, scratch
from tests.validation.rows import absolute, band, cases, check, each, relative
from tests.validation.wings import alone, straight_wing, surface

SOURCE = "goman1994"
LAGS = "strip_model.toml: separation_relax_chords, separation_delay_chords"
RATIOS = [(1.0, 1.0), (0.7, 0.84333), (0.5, 0.72855), (0.25, 0.5625), (0.0, 0.25)]


def lift_ratio(attached):
    """Return what a strip with an attached chord share makes of its attached force.

    The strip's separated branch is Kirchhoff's, a quarter of the attached one; the strip
    adds both up as the kernel does, from a static share of one half.
    """
    none = np.zeros(1)
    table = assemble(
        Branch(np.ones(1), none, none), Branch(0.25 * np.ones(1), none, none), np.array([0.5]),
        np.ones(1),
    )[0]  # fmt: skip
    assert attached_share(table[X0]) == pytest.approx(table[G0], rel=1e-12)
    return table[CN] + (attached_share(attached) - table[G0]) * table[DCN]


CHORD, FAST, STEP = 400.0, 4e4, 1e-4
TAU1, TAU2 = 0.5, 4.5  # chords


def turning_strip(alpha_deg, attached, pitch_dps, seconds):
    """Return the attached share after a pitch from ``alpha_deg``, f0 = 1 - alpha/30°."""
    alpha = alpha_of_coordinate(grid())
    table = np.zeros((1, N_S, N_COLUMNS))
    table[0, :, X0] = np.clip(1.0 - np.abs(np.degrees(alpha)) / 30.0, 0.0, 1.0)
    table[0, :, G0] = [attached_share(x) for x in table[0, :, X0]]
    wing = straight_wing(table=table).model
    wing.strips[k.S_CHORD], wing.strips[k.S_RELAX], wing.strips[k.S_DELAY] = CHORD, TAU1, TAU2
    wing.surfaces[0, k.F_RATE_MAX], wing.env[k.E_MOST_LAG] = 1e4, 1.0
    wing.env[k.E_AIR] = 0.0
    work, inputs = scratch(wing)
    x = np.zeros(work.k1.size)
    x[k.X_QUAT] = 1.0
    x[k.X_VEL] = FAST * np.cos(np.radians(alpha_deg))
    x[k.X_VEL + 2] = FAST * np.sin(np.radians(alpha_deg))
    x[k.X_RATE + 1] = np.radians(pitch_dps)
    x[-wing.strips.shape[1] :] = attached
    for _ in range(round(seconds / STEP)):
        rk4_step(x, wing, inputs, work, STEP)
    return x[-1], np.degrees(np.arctan2(x[k.X_VEL + 2], x[k.X_VEL]))


def stall_delay(pitch_dps):
    """Return by how many degrees the attached share lags behind in a steady pitch."""
    attached, alpha_deg = turning_strip(5.0, 1.0 - 5.0 / 30.0, pitch_dps, 0.12)
    return alpha_deg - 30.0 * (1.0 - attached)


def left_over(time_constants):
    """Return the share of a step in f that is left after so many tau1 at a fixed angle."""
    seconds = time_constants * TAU1 * CHORD / FAST
    attached, alpha_deg = turning_strip(10.0, 1.0, 0.0, seconds)
    still = 1.0 - alpha_deg / 30.0
    return (attached - still) / (1.0 - still)


def lag_chords():
    """Return by how many chords separation comes late in all on a wing as it is built."""
    model, _ = alone(surface("wing", 1.2, 0.2, 0.2))
    return model.strips[k.S_RELAX, 0] + model.strips[k.S_DELAY, 0]


def rows():
    yield from each("ayancik2022", "aerofoils, tau1 and tau2 together, second-hand", [
        ("wing as built: separation late by, chords", (5.0, 9.0), lag_chords)
    ], band(), "published", made_from=LAGS)  # fmt: skip
    yield from each(SOURCE, "stall delay (tau1 + tau2) q, 5 chords at c/V 0.01 s", (
        (f"pitching at {q}°/s: separation late by, °", 0.05 * q, lambda q=q: stall_delay(q))
        for q in (20, 50, 100)
    ), relative(0.01), "computed")  # fmt: skip
    yield from each(SOURCE, "after a step f decays as exp(-t/tau1)", (
        (f"after {n} tau1: share of a step that is left", float(np.exp(-n)),
         lambda n=n: left_over(n))
        for n in (1, 2, 3)
    ), relative(0.01), "computed")  # fmt: skip
    yield from each(SOURCE, "Kirchhoff's ((1 + sqrt f)/2)²", (
        (f"attached share {f:g}: lift over attached", ratio, lambda f=f: lift_ratio(f))
        for f, ratio in RATIOS
    ), absolute(5e-6), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_the_loop_closes_when_it_is_slow():
    # at dalpha/dt -> 0 there is no hysteresis
    up, down = stall_delay(2.0), stall_delay(-2.0)
    assert up == pytest.approx(0.1, rel=0.02)
    assert down == pytest.approx(-0.1, rel=0.02)
