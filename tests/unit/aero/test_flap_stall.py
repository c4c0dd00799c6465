"""What a flap does to the stall of its strips: of a section's on a long wing, little on a plate."""

import numpy as np
import pytest

from sim.aero.geometry.lattice import trapezoid
from sim.aero.geometry.lattice_flap import flap_at_edge
from sim.aero.interference.flap_stall import fill_flap_stall
from sim.aero.sections.flaps import flap_stall_share
from sim.core import layout as k
from sim.core.motion.derivative import offsets
from sim.core.motion.integrate import scratch
from sim.core.steady.statics import hang
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble

ALL = (0.0, 1.0)
SPEED = 15.0  # m/s


def at_edge(aspect_ratio, rolling=False):
    chord = 2.0 / aspect_ratio
    return flap_at_edge(trapezoid(1.0, chord, chord, 0.0), 0.25, ALL, rolling, 8, 12)


def flapped(name, surface, **changes):
    """Return tau and what moves the stall (n,) of the right panel's strips with a flap."""
    plane = load_aeroplane(name)
    surfaces = tuple(
        s.model_copy(update=changes) if s.name == surface else s for s in plane.surfaces
    )
    model = assemble(plane.model_copy(update={"surfaces": surfaces})).model
    which = next(j for j, s in enumerate(surfaces) if s.name == surface)
    strips = model.strips[:, model.strip_index[k.SI_SURFACE] == which]
    on = (strips[k.S_TAU] > 0.0) & (strips[k.S_RY] >= 0.0)
    return strips[k.S_TAU, on], strips[k.S_FLAP_STALL, on]


def test_the_edge_of_a_long_wing_knows_a_flap_as_a_sections_does_a_slender_ones_not():
    assert at_edge(400.0) == pytest.approx(1.0, abs=0.02)
    # slender wings: the flow ahead does not know of what lies behind [jones1946]
    assert at_edge(0.1) == pytest.approx(0.0, abs=0.01)
    ratios = [at_edge(a) for a in (1.0, 2.0, 4.0, 8.0, 16.0)]
    assert ratios == sorted(ratios)
    assert at_edge(6.0, rolling=True) < at_edge(6.0)


def test_on_a_long_wing_the_stall_moves_as_the_sections_does():
    # what the flap's load turns is given back, and what is left felt as incidence is: an elevator
    # over all of a tail of aspect ratio 20 (one sign of deflection on both sides)
    plane = load_aeroplane("club_sport")
    tail = next(s for s in plane.surfaces if s.role == "tail")
    control = tail.controls[0].model_copy(update={"inner_pct": 0.0, "outer_pct": 100.0})
    long = {"panel_span_mm": 3500.0, "controls": (control,), "dihedral_deg": 0.0}
    tau, stall = flapped("club_sport", tail.name, **long)
    inner = stall[: stall.size // 2] / tau[: tau.size // 2]
    assert inner == pytest.approx(flap_stall_share(), rel=0.1)


def test_a_rudder_hardly_moves_the_stall_of_a_short_fin():
    plane = load_aeroplane("display_jet")
    fin = next(s for s in plane.surfaces if s.role == "fin")
    tau, stall = flapped("display_jet", fin.name)
    assert (stall < 0.5 * flap_stall_share() * tau).all()
    assert (stall > 0.0).all()


@pytest.mark.parametrize("name", ["club_sport", "display_jet"])
def test_in_stalled_flow_no_more_is_given_back_than_the_flap_still_turns(name):
    """What an aileron turns of its own air, read off hung flights, attached and stalled."""
    ready = assemble(load_aeroplane(name))
    model, strips = ready.model, ready.model.strips
    felt = [induced_per_radian(ready, np.radians(a)) for a in (2.0, 30.0)]
    whole = (model.strip_index[k.SI_SURFACE] == 0) & (strips[k.S_RY] > 0.0)
    whole &= strips[k.S_TAU] > 0.99 * strips[k.S_TAU, whole].max()
    lost = (felt[0] - felt[1]) * strips[k.S_INDUCED, whole] * strips[k.S_ETA, whole]
    assert felt[1] < 0.75 * felt[0]
    # what hung flights feel of an aileron is a quarter more than the small-angle sums have
    assert strips[k.S_FLAP_FELT, whole] == pytest.approx(lost, rel=1.0 / 3.0)
    assert (strips[k.S_FLAP_FELT, whole] < strips[k.S_FLAP_STALL, whole]).all()


def induced_per_radian(ready, alpha, deflection=0.1):
    """Return the antisymmetric induced angle of the wing per radian of aileron [-]."""
    model = ready.model
    sides = {side: row for (name, side), row in ready.aero.channels.items() if "aileron" in name}
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[-model.strips.shape[1] :] = 1.0
    found = []
    for angle in (deflection, -deflection):
        for side, row in sides.items():
            inputs.target[row] = side * angle
        hang(x, model, inputs, work, SPEED, alpha, 0.0, 0.0, 0.0, 0.0, 0.0)
        found.append(x[offsets(model)[2] + 1])
    return (found[0] - found[1]) / (2.0 * deflection)


def test_a_surface_without_a_flap_is_left_alone():
    plane = load_aeroplane("display_jet")
    tail = next(s for s in plane.surfaces if s.role == "tail")
    strips = np.ones((k.N_STRIP_ROWS, 3))
    fill_flap_stall(tail, {}, strips, np.ones(3, dtype=bool), np.zeros(k.N_SURFACE_COLS), 6.0)
    assert (strips == 1.0).all()


def test_all_of_a_moving_tail_moves_its_stall():
    model = assemble(load_aeroplane("display_jet")).model
    moves = model.strips[k.S_MOVES] == 1.0
    assert moves.any()
    assert np.all(model.strips[k.S_FLAP_STALL, moves] == 1.0)
