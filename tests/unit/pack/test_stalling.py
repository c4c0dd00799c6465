"""Where lift stops growing, upright and inverted."""

import numpy as np
import pytest

from sim.core import layout as k
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from sim.pack.stalling import first_break

DEG = np.arange(0.0, 46.0)


def test_a_peak_is_the_stall():
    lift = np.where(DEG <= 12.0, 0.09 * DEG, 1.08 - 0.05 * (DEG - 12.0))
    assert first_break(lift) == 12


def test_a_bend_is_the_stall_too():
    # no peak and no fall before 45 degrees: separated flow goes on to rise slowly
    lift = np.where(DEG <= 11.0, 0.06 * DEG, 0.66 + 0.005 * (DEG - 11.0))
    assert first_break(lift) == 11


def test_lift_that_never_stops_growing_has_none():
    assert first_break(0.05 * DEG) == DEG.size - 1


@pytest.mark.parametrize(("camber", "compare"), [(0.0, "same"), (4.0, "sooner inverted")])
def test_camber_makes_the_inverted_stall_come_sooner(camber, compare):
    # flat-bottomed and cambered models need height for inverted flight: they stall sooner
    # there, counted from zero lift (common practice, no source); without camber both are alike
    sport = load_aeroplane("club_sport")
    surfaces = tuple(
        s.model_copy(update={"section": s.section.model_copy(update={"camber_pct": camber})})
        if s.role == "wing"
        else s
        for s in sport.surfaces
    )
    stall = assemble(sport.model_copy(update={"surfaces": surfaces})).stall
    zero_deg = -1.04 * camber  # thin-aerofoil theory, four-digit mean line
    upright = np.degrees(stall.alpha) - zero_deg
    inverted = np.degrees(stall.inverted) + zero_deg
    if compare == "same":
        assert inverted == pytest.approx(upright, abs=2.0)
    else:
        assert inverted < upright - 3.0


def test_the_flight_is_told_both():
    ready = assemble(load_aeroplane("club_sport"))
    assert ready.model.env[k.E_STALL_ALPHA] == ready.stall.alpha
    assert ready.model.env[k.E_STALL_INVERTED] == ready.stall.inverted
    assert ready.stall.angle(-0.1) == ready.stall.inverted
    assert ready.stall.angle(0.1) == ready.stall.alpha
