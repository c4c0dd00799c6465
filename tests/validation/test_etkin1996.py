"""Modes of a Boeing 747-100: B. Etkin, L. D. Reid, *Dynamics of Flight*, tables 6.2 to 6.7.

40,000 ft, M 0.8; the matrices from memory, their printed modes reproduced. Also what any
linear model must have, and the effect of moving the balance point, on the display jet.
"""

from functools import lru_cache

import numpy as np
import pytest

from sim.core.flights.perturb import copied, moved
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.steady.linear import trimmed_state
from sim.trim.modes import lateral_modes, longitudinal_modes, mode_of
from sim.trim.trimming import level, matrices
from tests.validation.jets import first_setup
from tests.validation.rows import absolute, cases, check, each, relative
from tests.validation.wings import loads_at

SOURCE = "etkin1996"
LONGITUDINAL = [
    [-0.006868, 0.01395, 0.0, -32.2],
    [-0.09055, -0.3151, 773.98, 0.0],
    [0.0001187, -0.001026, -0.4285, 0.0],
    [0.0, 0.0, 1.0, 0.0],
]
LATERAL = [
    [-0.0558, 0.0, -774.0, 32.2],
    [-0.003865, -0.4342, 0.4136, 0.0],
    [0.001086, -0.006112, -0.1458, 0.0],
    [0.0, 1.0, 0.0, 0.0],
]
MODES = {
    "short period": (-0.371945, 0.887540),
    "phugoid": (-0.003289, 0.067231),
    "roll": (-0.56248, 0.0),
    "Dutch roll": (-0.033011, 0.946546),
    "spiral": (-0.0072973, 0.0),
}


@lru_cache
def found():
    both = longitudinal_modes(np.array(LONGITUDINAL)) + lateral_modes(np.array(LATERAL))
    return {m.name: m for m in both}


@lru_cache
def moment_change(aft_m):
    """Return the change of dM/dalpha from moving the balance point, over arm times dN/dalpha."""
    here = first_setup("display_jet").model
    there = copied(here)
    moved(there, -aft_m, 0.0, 0.0)
    one, other = loads_at(here, [1.0, 3.0]), loads_at(there, [1.0, 3.0])
    change = (other[1, 4] - one[1, 4]) - (other[0, 4] - one[0, 4])
    return change / (-(one[1, 2] - one[0, 2]) * aft_m)


def rows():
    for name, (real, imaginary) in MODES.items():
        parts = [("real part", real, lambda name=name: found()[name].real)]
        if imaginary:
            parts.append(("imaginary part", imaginary, lambda name=name: found()[name].imaginary))
        for part, value, measure in parts:
            # four printed figures hold the phugoid's damping to 1.5e-4 only
            few = (name, part) == ("phugoid", "real part")
            yield from each(SOURCE, "tables 6.2-6.7, reproduced", [
                (f"Boeing 747 {name}: {part}, 1/s", value, measure)
            ], absolute(5e-7) if few else relative(1e-4), "from memory")  # fmt: skip
    yield from each("closed_form", "Cma changes by CLa dx/c exactly", (
        (f"display jet, balance moved {1000.0 * aft:g} mm aft: change of moment slope, over exact",
         1.0, lambda aft=aft: moment_change(aft))
        for aft in (0.01, 0.05, -0.03)
    ), relative(1e-9), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


def test_the_jumbo_has_these_modes_and_no_others():
    assert set(found()) == set(MODES)
    assert found()["roll"].imaginary == found()["spiral"].imaginary == 0.0


def test_what_a_mode_says():
    # closed forms of a second-order system: frequency 5, damping 0.6
    mode = mode_of("x", complex(-3.0, 4.0))
    assert mode.frequency_rps == pytest.approx(5.0)
    assert mode.damping == pytest.approx(0.6)
    assert mode.period_s == pytest.approx(0.5 * np.pi)
    assert mode.half_time_s == pytest.approx(np.log(2.0) / 3.0)
    growing = mode_of("x", complex(0.1, 0.0))
    assert growing.period_s is None
    assert growing.half_time_s == pytest.approx(-np.log(2.0) / 0.1)


def test_exact_entries_of_the_jets_matrices():
    # what needs no aerodynamics: gravity's and the turning axes' parts of u, w, v rates
    jet = first_setup("display_jet")
    trim = level(jet, 1.6 * jet.stall.speed_mps)
    long, lateral = matrices(jet, trim)
    x, _, _ = trimmed_state(jet.model, trim.speed_mps)
    theta = np.arctan2(x[5], x[3])
    assert long[0, 3] == pytest.approx(-STANDARD_GRAVITY * np.cos(theta), rel=1e-4)
    assert long[1, 3] == pytest.approx(-STANDARD_GRAVITY * np.sin(theta), rel=1e-3)
    assert lateral[0, 3] == pytest.approx(STANDARD_GRAVITY * np.cos(theta), rel=1e-4)
    assert lateral[3, 2] == pytest.approx(np.tan(theta), rel=1e-6)
    # u and w speeds dominate: -w q in the u equation, +u q in the w one, -u r in the v one
    assert long[1, 2] == pytest.approx(x[3], rel=0.10)
    assert lateral[0, 2] == pytest.approx(-x[3], rel=0.10)


@pytest.mark.parametrize("aft", [0.01, 0.05, -0.03])
def test_moving_the_balance_point(aft):
    here = first_setup("display_jet").model
    there = copied(here)
    moved(there, -aft, 0.0, 0.0)
    alphas = [1.0, 3.0]
    one, other = loads_at(here, alphas), loads_at(there, alphas)
    assert other[:, :3] == pytest.approx(one[:, :3], abs=1e-9)
    # against lift instead of normal force they differ by drag, 1 % or so at small angles
    a = np.radians(alphas)
    lift = one[:, 0] * np.sin(a) - one[:, 2] * np.cos(a)
    change = (other[1, 4] - one[1, 4]) - (other[0, 4] - one[0, 4])
    assert change == pytest.approx(aft * (lift[1] - lift[0]), rel=0.03)
    yaw = other[:, 5] - one[:, 5]
    assert yaw == pytest.approx(-aft * one[:, 1], abs=1e-9)
