"""The public tunnel calls against closed forms: finite wings, strips in roll, a tail in pitch."""

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

import sim
from sim.aero.sections.finite_wing import helmbold_slope
from sim.core import layout as k
from sim.core.steady.forced import oscillated
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from tests.validation.rows import absolute, cases, check, each, relative
from tests.validation.test_strip_theory import MEASURED_DRAG, MEASURED_SLOPE
from tests.validation.wings import DENSITY, SPAN, SPEED, measured_wing, surface

ROLL = np.array([1.0, 0.0, 0.0])
SLOW = 0.01  # reduced frequency at which the flow keeps up


@lru_cache
def wing_alone(aspect_ratio):
    """Return an assembled set-up of one straight wing, balanced on its quarter chord."""
    jet = load_aeroplane("display_jet")
    wing = surface("wing", 1.2, 1.2 / aspect_ratio, 1.2 / aspect_ratio)
    share = jet.airframe[0].model_copy(update={"of": "wing"})
    return assemble(
        jet.model_copy(update={"surfaces": (wing,), "bodies": (), "airframe": (share,)})
    )


def wing_slope(aspect_ratio):
    found = sim.coefficients(wing_alone(aspect_ratio), alpha_deg=[-0.6, 0.6])
    return (found.CL[1] - found.CL[0]) / np.radians(1.2)


@lru_cache
def rolled(reduced):
    """Return in-phase and out-of-phase Cl [1/rad] of strips without induced flow at 0 deg."""
    wing = measured_wing()
    omega = reduced * 2.0 * SPEED / SPAN
    loads = oscillated(
        wing.model, SPEED, 0.0, 0.0, np.zeros(0), 0.0, ROLL, np.radians(2.3), omega, 400, 2, 1
    )  # fmt: skip
    push = 0.5 * DENSITY * SPEED**2 * wing.area * SPAN
    return loads[1, 3] / push, loads[2, 3] / push / reduced


@lru_cache
def tail_in_pitch(prompt):
    """Return the tail's forced damping over the formula's, display jet at 1 deg.

    Cm_alphadot = Cmq d epsilon/d alpha, the downwash being late by l_t/V; what the tail adds
    to Cmq and to Cm_alpha gives the downwash: Cm_alpha = Cmq (1 - d epsilon/d alpha) c/2 l_t.
    ``prompt`` takes away what the formula does not know: the wing's own lag of half a span, and
    that of separation.
    """
    jet = assemble(load_aeroplane("display_jet"))
    if prompt:
        surfaces = jet.model.surfaces.copy()
        # the fastest that a 5 ms step bears; what is left of the lag is 4 %
        surfaces[:, k.F_SPANS], surfaces[:, k.F_RATE_MAX] = 1e-6, 240.0
        strips = jet.model.strips.copy()
        strips[k.S_DELAY] = 0.0
        jet = replace(jet, model=jet.model._replace(surfaces=surfaces, strips=strips))
    bare = replace(jet, model=_without_tail(jet))
    slope, rate, damping = (of(jet) - of(bare) for of in (_slope, _by_rate, _damping))
    moved = sim.coefficients(jet, alpha_deg=1.0, deflections_deg={"tail": [-1.0, 1.0]})
    arm = np.diff(moved.Cm)[0] / np.diff(moved.CZ)[0]  # chords
    wash = 1.0 - 2.0 * arm * slope / rate
    return damping / (rate * (1.0 + wash))


def _slope(jet):
    return np.diff(sim.coefficients(jet, alpha_deg=[0.0, 2.0]).Cm)[0] / np.radians(2.0)


def _by_rate(jet):
    return np.diff(sim.coefficients(jet, alpha_deg=1.0, rates=(0, [-0.01, 0.01], 0)).Cm)[0] / 0.02


def _damping(jet):
    return sim.forced_oscillation(
        jet, axis="pitch", alpha_deg=1.0, amplitude_deg=1.0, reduced_frequency=SLOW
    ).out_of_phase.Cm[0]


def _without_tail(jet):
    """Return the model whose tailplane does not push."""
    model = jet.model
    strips = model.strips.copy()
    lying = [j for j, s in enumerate(jet.aeroplane.surfaces) if s.role == "tail"]
    strips[k.S_FORCE, np.isin(model.strip_index[k.SI_SURFACE], lying)] = 0.0
    return model._replace(strips=strips)


def rows():
    yield from each("helmbold1942", "5 % for a strip model; lift slope by sim.coefficients", (
        (f"sim.coefficients, straight wing of aspect ratio {ar}: lift slope, 1/rad",
         helmbold_slope(ar), lambda ar=ar: wing_slope(ar))
        for ar in (2.0, 4.0, 8.0)
    ), relative(0.05), "computed")  # fmt: skip
    yield from each("closed_form", "Clp = -(a + CD0)/6, a 0.11/°, CD0 .0091, quasi-steady", [
        ("forced roll, strips without induced flow: out-of-phase Cl",
         -(MEASURED_SLOPE + MEASURED_DRAG) / 6.0, lambda: rolled(SLOW)[1]),
    ], relative(0.01), "computed")  # fmt: skip
    yield from each("closed_form", "no sideslip derivative of a plane wing at no lift", [
        ("forced roll, strips without induced flow: in-phase Cl", 0.0, lambda: rolled(SLOW)[0]),
    ], absolute(1e-3), "computed")  # fmt: skip
    formula = "Cm_alphadot = Cmq deps/dalpha, downwash late by lt/V"
    yield from each("etkin1996", formula, [
        ("forced pitch, tail of the display jet: damping over the formula's", 1.0,
         lambda: tail_in_pitch(False)),
    ], relative(0.10), "computed")  # fmt: skip
    yield from each("etkin1996", formula, [
        ("forced pitch, the same without these lags: damping over the formula's", 1.0,
         lambda: tail_in_pitch(True)),
    ], relative(0.10), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
