"""A flap told in pieces flies as the one flap that it is (arithmetic: the same wing)."""

import numpy as np
import pytest

from sim.aero.geometry.pieces import flap_on, whole_flaps
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble

SPORT = load_aeroplane("club_sport")


def cut(aeroplane, share=0.37):
    """Return it with every flap cut in two, not where a strip ends."""
    surfaces = []
    for surface in aeroplane.surfaces:
        controls = []
        for c in surface.controls:
            at = c.inner_pct + share * (c.outer_pct - c.inner_pct)
            controls.append(c.model_copy(update={"outer_pct": at}))
            controls.append(c.model_copy(update={"inner_pct": at}))
        surfaces.append(surface.model_copy(update={"controls": tuple(controls)}))
    return aeroplane.model_copy(update={"surfaces": tuple(surfaces)})


def test_cut_in_pieces_it_is_the_same_aeroplane():
    whole, pieces = (assemble(x).aero for x in (SPORT, cut(SPORT)))
    np.testing.assert_allclose(pieces.strips, whole.strips, rtol=1e-9, atol=1e-12)
    np.testing.assert_array_equal(pieces.strip_index, whole.strip_index)


def test_pieces_that_do_not_meet_stay_apart():
    wing = SPORT.surfaces_as("wing")[0]
    flap = next(c for c in wing.controls if c.channel == "aileron")
    one = flap.model_copy(update={"inner_pct": 20.0, "outer_pct": 40.0, "chord_pct": 10.0})
    two = flap.model_copy(update={"inner_pct": 40.0, "outer_pct": 60.0, "chord_pct": 20.0})
    far = flap.model_copy(update={"inner_pct": 80.0, "outer_pct": 90.0})
    told = wing.model_copy(update={"controls": (one, two, far), "tip_chord_mm": wing.root_chord_mm})
    first, last = whole_flaps(told)
    assert (first.inner_pct, first.outer_pct, last) == (20.0, 60.0, far)
    assert first.chord_pct == pytest.approx(15.0)  # on a wing without taper the plain mean
    ten = told.model_copy(update={"strips": 10, "controls": (one, two.model_copy(
        update={"inner_pct": 40.5}))})  # fmt: skip
    mixed, cover = flap_on(ten, 4)
    assert (mixed.chord_pct, cover) == (20.0, pytest.approx(0.95))
    assert flap_on(ten, 9) is None
