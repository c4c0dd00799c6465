"""No rounding of an aspect ratio decides how a surface stalls, and a fin stalls as on a wall."""

from functools import lru_cache

import numpy as np
import pytest

from sim import tables
from sim.aero import choice
from sim.aero.build import build_aero
from sim.aero.choice import Parameters, surface_table
from sim.aero.geometry.kinds import section_share
from sim.aero.geometry.panels import half_chord_sweep, panels_of
from sim.aero.sections.finite_wing import datcom_slope
from sim.core.loads.lookup import CN, G0, X0, attached_share
from sim.describe import load_aeroplane
from tests.validation.wings import DENSITY, NO_SPREAD, SPEED, alone, loads_at, slope_of, surface

SPAN = 1.2
ALPHAS = np.arange(-90.0, 91.0, 1.0)
PLANS = {"straight": (0.0, 1.0), "swept and tapered": (30.0, 0.5)}
LOW, HIGH = tables.strip_model().section_aspect_ratios


def wing(aspect_ratio, sweep_deg=0.0, taper=1.0, role="wing"):
    """Return a wing of this aspect ratio."""
    root = 2.0 * SPAN / aspect_ratio / (1.0 + taper)
    return surface(role, SPAN, root, taper * root, sweep_deg)


@lru_cache
def curves(aspect_ratio, plan):
    """Return CL, CN and Cm (3, n) over `ALPHAS`; Cm on the mean chord about the leading edge."""
    model, area = alone(wing(aspect_ratio, *PLANS[plan]))
    loads, a = loads_at(model, ALPHAS), np.radians(ALPHAS)
    push = 0.5 * DENSITY * SPEED**2 * area
    lift = loads[:, 0] * np.sin(a) - loads[:, 2] * np.cos(a)
    return np.array([lift, -loads[:, 2], loads[:, 4] / (SPAN / aspect_ratio)]) / push


@pytest.mark.parametrize("plan", PLANS)
def test_curves_move_little_across_aspect_ratio_3(plan):
    # 0.02 of aspect ratio; CL jumped by 0.23 (straight) and 0.32 (swept) from plate to section
    assert np.abs(curves(3.01, plan) - curves(2.99, plan)).max() < 0.02


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("at", [LOW, 2.75, 3.0])
def test_curves_do_not_jump(plan, at):
    # a slope of less than 1 per aspect ratio, so 2e-8 moves no curve by more than that
    assert np.abs(curves(at + 1e-8, plan) - curves(at - 1e-8, plan)).max() < 1e-6


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("at", [2.75, 3.0, 3.2, HIGH])
def test_the_model_does_not_jump(plan, at):
    # towards the upper end a sweep through the stall has more than one steady state of its own,
    # so the packed model is compared, not its curves
    def packed(aspect_ratio):
        jet = load_aeroplane("display_jet").model_copy(
            update={"surfaces": (wing(aspect_ratio, *PLANS[plan]),)}
        )
        return build_aero(jet, {}, 15.0, NO_SPREAD, 0.3)

    below, above = packed(at - 1e-8), packed(at + 1e-8)
    for name in ("tables", "table_ends", "strips", "surfaces"):
        one, other = getattr(below, name), getattr(above, name)
        assert np.abs(one - other).max() < 1e-5, name


def test_a_tail_and_its_downwash_do_not_jump():
    def lift(aspect_ratio):
        tail = surface("tail", 0.5, 0.2, 0.2, aft=1.0)
        model, _ = alone(wing(aspect_ratio), tail)
        return loads_at(model, np.array([2.0, 5.0, 8.0]))[:, 4]

    for at in (LOW, 3.0, HIGH):
        assert lift(at + 1e-8) == pytest.approx(lift(at - 1e-8), rel=1e-6)


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("aspect_ratio", [2.4, 2.6, 2.8, 3.0, 3.2, 3.4, 3.6])
def test_the_slope_is_datcoms_all_the_way(plan, aspect_ratio):
    # [datcom1978] 4.1.3.2, closed form; 1 %: a plate's chord over a node has its side edges in it
    built = wing(aspect_ratio, *PLANS[plan])
    theory = datcom_slope(aspect_ratio, half_chord_sweep(panels_of(built)[0]))
    found = slope_of(built)
    assert found == pytest.approx(theory, rel=0.01)


def test_share_goes_from_plate_to_section():
    shares = [section_share(wing(ar)) for ar in (1.0, LOW, 2.9, 3.0, 3.1, HIGH, 8.0)]
    assert shares == sorted(shares)
    assert shares[:2] == pytest.approx([0.0, 0.0], abs=1e-12)
    assert shares[3] == pytest.approx(0.5)
    assert shares[5:] == pytest.approx([1.0, 1.0])
    fin = wing(3.0).model_copy(update={"dihedral_deg": 90.0})
    assert section_share(fin) == 0.0


def test_a_blended_table_is_whole():
    table = surface_table(wing(3.0), 15.0, Parameters())
    assert table[:, G0] == pytest.approx([attached_share(x) for x in table[:, X0]])
    assert np.isfinite(table).all()


def test_a_fin_on_a_wall_stalls_as_the_wing_that_it_is_half_of(monkeypatch):
    # by reflection: a wall, the perfect end plate, doubles the aspect ratio, for the stall too;
    # surfaces on a ground board are reported by that effective aspect ratio: Whicker and
    # Fehlner, DTMB Report 933 (1958), from memory
    on_a_wall = tables.strip_model().model_copy(update={"single_fin_aspect_factor": 2.0})
    whole = surface("tail", 0.8, 0.4, 0.4)  # aspect ratio 2, a plate
    half = whole.model_copy(update={"role": "fin", "mirrored": False, "dihedral_deg": 90.0})
    choice._table.cache_clear()
    monkeypatch.setattr(tables, "strip_model", lambda: on_a_wall)
    try:
        built = [surface_table(x, 15.0, Parameters()) for x in (whole, half)]
    finally:
        choice._table.cache_clear()
    # force and separation; where the load lies is the lattice's for a lying plate alone
    for column in (CN, X0):
        assert built[0][:, column] == pytest.approx(built[1][:, column], abs=1e-12)
