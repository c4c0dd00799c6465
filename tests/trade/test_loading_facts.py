"""Which control decides must change with how the mass lies, as published.

U.S. Navy P-1216: an aeroplane of neutral loading with a good tail comes out with rudder
against the spin; fuselage-loaded fighters have not enough rudder and need aileron with the
spin, and aileron against keeps them in. One aeroplane, one spin entry, four ways of carrying
the same mass; the same draws throughout.
"""

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest

from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.flights.inertia import spread_inertia
from sim.describe import load_aeroplane, resolve_setup
from sim.pack.assemble import assemble
from tests.trade.flown import back, flown_ways, share_limits

WAYS = ("rudder_alone", "rudder_aileron_with", "rudder_aileron_against")
# factors on the second moments of mass along the body and along the span
WING_LOADED, NEUTRAL, FUSELAGE_LOADED = (1.0, 2.0), (1.0, 1.0), (3.0, 1.0)


@lru_cache
def sport(along_body: float, along_span: float):
    """Return the sport model, balanced back, with its mass spread otherwise."""
    aeroplane = load_aeroplane("club_sport")
    plain = assemble(aeroplane, resolve_setup(aeroplane, "aerobatic"))
    mass = plain.model.mass.copy()
    spread_inertia(plain.model.mass, 1.0, np.array([along_body, along_span, 1.0]), mass)
    return replace(plain, model=plain.model._replace(mass=mass))


def loading(ready) -> float:
    """Return (Ix - Iy)/(m b2)."""
    mass = ready.model.mass
    span = ready.weighed.reference.span_m
    return (mass[k.M_INERTIA] - mass[k.M_INERTIA + 4]) / (mass[k.M_MASS] * span**2)


def spun(ready, recovery: str) -> np.ndarray:
    """Return summaries of a recovery from a spin; all that are asked are flown after each entry.

    Of neutral loading nothing is asked of aileron against.
    """
    ways = WAYS[:2] if ready is sport(*NEUTRAL) else WAYS
    return flown_ways(ready, "spin_entry", ways)[ways.index(recovery)]


def turns(ready, recovery: str) -> float:
    """Return the median of the turns made from the first input on."""
    return float(np.median(np.abs(spun(ready, recovery)[:, s.R_TURNS_RECOVERY])))


def gained(ready) -> np.ndarray:
    """Return how many times fewer turns rudder alone takes (2000,), of the same draws resampled."""
    ways = ("rudder_aileron_with", "rudder_alone")
    turned = [np.abs(spun(ready, x)[:, s.R_TURNS_RECOVERY]) for x in ways]
    again = np.random.default_rng(0).integers(0, turned[0].size, (2000, turned[0].size))
    with_it, alone = (np.median(x[again], axis=1) for x in turned)
    return with_it / alone


def test_the_loadings_are_what_they_are_called():
    assert loading(sport(*WING_LOADED)) > 0.0 > loading(sport(*NEUTRAL)) > -0.010
    assert loading(sport(*FUSELAGE_LOADED)) < -0.050


@pytest.mark.parametrize("mass", [WING_LOADED, NEUTRAL], ids=["wing", "neutral"])
def test_rudder_decides_unless_fuselage_loaded(mass):
    """Rudder alone ends it in fewer turns than with aileron with the spin, all come back."""
    ready = sport(*mass)
    assert turns(ready, "rudder_alone") < 0.7 * turns(ready, "rudder_aileron_with")
    assert back(spun(ready, "rudder_alone")).mean() > 0.95


def test_rudder_alone_loses_its_advantage_with_fuselage_loading():
    """At 95 %, all three of the same draws; wing-loaded and neutral are not told apart."""
    wing, neutral, fuselage = (
        gained(sport(*mass)) for mass in (WING_LOADED, NEUTRAL, FUSELAGE_LOADED)
    )
    assert np.percentile(np.minimum(wing, neutral) - fuselage, 2.5) > 0.0


def test_aileron_decides_when_fuselage_loaded():
    """Aileron against keeps it in the spin, with lets it out; rudder alone is no better."""
    ready = sport(*FUSELAGE_LOADED)
    alone, with_it, against = (share_limits(spun(ready, way)) for way in WAYS)
    assert against[1] < with_it[0]
    assert alone[0] <= with_it[1]


def test_aileron_against_does_not_matter_when_wing_loaded():
    ready = sport(*WING_LOADED)
    with_it, against = (share_limits(spun(ready, way)) for way in WAYS[1:])
    assert against[1] >= with_it[0]
