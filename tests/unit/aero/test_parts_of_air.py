"""Each part of the build-up by itself: closed forms, limits, and what must not be touched."""

from functools import cache

import numpy as np
import pytest

from sim.aero.build import build_aero
from sim.aero.geometry.effective import mean_reynolds, slope_aspect_ratio
from sim.aero.geometry.felt import felt_share, felt_strength, own_slope
from sim.aero.geometry.lifting_line import roll_damping, rolling_share
from sim.aero.geometry.panels import aspect_ratio, panels_of
from sim.aero.interference.fin_on_body import attached_only, fin_strip
from sim.aero.interference.finite_flap import finite_flap
from sim.aero.interference.induced import induced_shape
from sim.aero.interference.separating import NONE, burst_per_sweep, helper_of
from sim.aero.interference.shielding import body_source, surface_source
from sim.aero.sections.aerofoil import attached_fade, section_table
from sim.aero.sections.sweeping import across, separated_along_stream
from sim.core import layout as k
from sim.core.loads.lookup import CN, DCN, G0, alpha_of_coordinate, coordinate_of_alpha, grid
from sim.describe import load_aeroplane, resolve_setup
from sim.pack.spreads import spreads_of, table_ends


@cache
def jet():
    return load_aeroplane("display_jet")


def surface(name):
    return next(s for s in jet().surfaces if s.name == name)


@cache
def packed():
    throws = resolve_setup(jet()).throws
    return build_aero(jet(), throws, 20.0, table_ends(spreads_of(jet())), 0.3)


def test_rolling_is_damped_as_glauert_has_it():
    """An elliptic wing's Clp is -pi/4 AR/(AR + 4), from the second term [glauert1926] alone.

    A taper of 0.45 is as near to it as a straight one comes; strips that damp it so feel a share
    of about one.
    """
    for ratio in (4.0, 6.0, 10.0):
        elliptic = -0.25 * np.pi * ratio / (ratio + 4.0)
        assert roll_damping(ratio, 0.45) == pytest.approx(elliptic, rel=0.03)
    assert 1.0 < rolling_share(6.0, 0.5) < 1.3


def test_strips_of_a_plate_feel_no_induced_angle():
    fin, wing = surface("fin"), surface("wing")
    assert felt_strength(fin, 3.0) == 0.0
    assert felt_strength(wing, 6.0) > 0.0
    assert own_slope(wing, 6.0) <= 6.0 + 1e-12
    row = packed().surfaces[[s.name for s in jet().surfaces].index("wing")]
    assert 0.0 <= felt_share(wing, row, 6.0) <= 1.0


def test_the_induced_shape_has_the_surfaces_mean():
    wing = surface("wing")
    mine = packed().strip_index[k.SI_SURFACE] == [s.name for s in jet().surfaces].index("wing")
    panel = panels_of(wing)[0]
    strips = packed().strips[:, mine]
    shape = induced_shape(panel, strips)
    assert shape.shape == (strips.shape[1],)
    assert shape.min() > 0.0
    assert shape.mean() == pytest.approx(1.0, abs=0.3)


def test_a_table_without_its_separated_branch_has_none():
    table = attached_only(section_table(12.0, 0.0, "round", 2e5, 5.0))
    np.testing.assert_allclose(table[:, CN] - table[:, G0] * table[:, DCN], 0.0, atol=1e-12)
    assert fin_strip(panels_of(surface("wing"))[0], jet().bodies) is None
    assert fin_strip(panels_of(surface("fin"))[0], jet().bodies) is not None


def test_a_flap_turns_a_short_surface_more():
    tail = surface("wing")
    control = tail.controls[0]
    stick = jet().channels[control.channel].stick
    short = tail.model_copy(update={"panel_span_mm": 0.4 * tail.panel_span_mm})
    assert finite_flap(short, control, stick) > finite_flap(tail, control, stick) > 1.0


def test_more_sweep_bursts_later_and_the_strake_helps_the_wing():
    assert burst_per_sweep(65.0) > 0.0
    names = [s.name for s in jet().surfaces]
    assert helper_of(jet().surfaces, surface("wing")) == names.index("strake")
    assert helper_of(jet().surfaces, surface("fin")) == NONE


def test_wakes_come_from_rows_of_one_length():
    wing = surface("wing")
    plan = surface_source(wing, panels_of(wing)[0], 0, wing.sweep_deg)
    assert plan.shape == body_source(jet().bodies[0]).shape == packed().sources[0].shape
    spots, sources = packed().pairs.T
    assert spots.max() < packed().strips.shape[1]
    assert sources.max() < packed().sources.shape[0]


def test_sweeping_keeps_the_force_of_the_stream():
    """Simple sweep theory: V cos(a) cos(L) along the chord, V sin(a) across it."""
    table = section_table(12.0, 0.0, "round", 2e5, 5.0)
    assert across(table, 0.0) is table
    assert separated_along_stream(table, 0.0, attached_fade()) is table
    sweep, alpha = 0.5, 0.4
    own = np.arctan2(np.sin(alpha), np.cos(alpha) * np.cos(sweep))
    seen = (np.cos(alpha) * np.cos(sweep)) ** 2 + np.sin(alpha) ** 2

    def at(t, a):
        return np.interp(coordinate_of_alpha(np.array(a)), grid(), t[:, CN])

    assert seen * at(across(table, sweep), own) == pytest.approx(at(table, alpha), rel=0.01)
    assert alpha_of_coordinate(np.array(1.0)) == pytest.approx(np.pi / 2.0)


def test_a_fin_lifts_as_if_it_were_longer_and_reynolds_goes_with_speed():
    fin = surface("fin")
    assert slope_aspect_ratio(fin) > aspect_ratio(fin)
    assert mean_reynolds(fin, 20.0) == pytest.approx(2.0 * mean_reynolds(fin, 10.0))
