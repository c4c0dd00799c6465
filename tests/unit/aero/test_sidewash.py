"""What the vortices of strakes do to the sideslip of fins above and below them."""

import numpy as np
import pytest

from sim.aero.geometry.panels import panels_of
from sim.aero.interference.sidewash import fill_sidewash
from sim.core import layout as k
from sim.core.loads.fin_air import sidewash
from sim.describe.geometry import Section, Surface

ROOT_M, SPAN_M = 0.1, 0.1
OUT_M = ROOT_M + 0.5 * SPAN_M


def surface(name, role, **more):
    shape = {
        "root_aft_mm": -300.0, "root_right_mm": 1000.0 * ROOT_M, "root_up_mm": 0.0,
        "panel_span_mm": 1000.0 * SPAN_M, "root_chord_mm": 300.0, "tip_chord_mm": 300.0,
        "sweep_deg": 0.0, "section": Section(thickness_pct=3.0, edge="sharp"), "strips": 4,
    }  # fmt: skip
    return Surface(name=name, role=role, mirrored=role != "fin", **{**shape, **more})


STRAKE = surface("strake", "strake")
FIN = surface(
    "fin", "fin", root_aft_mm=700.0, root_right_mm=0.0, root_up_mm=100.0, panel_span_mm=300.0,
    dihedral_deg=90.0,
)  # fmt: skip


def filled():
    """Return the row of a fin behind two strakes beside a body 0.2 m wide."""
    row = np.zeros(k.N_SURFACE_COLS)
    panels = [*panels_of(STRAKE), *panels_of(FIN)]
    fill_sidewash(panels, panels[-1], row)
    return row


def washed(alpha_deg, area_force):
    """Return by how much of itself the sideslip at the fin changes."""
    surfaces = np.zeros((2, k.N_SURFACE_COLS))
    surfaces[0] = filled()
    surfaces[1, [k.F_VORTEX, k.F_WASH_GAIN, k.F_AREA]] = 1.0
    x, sums = np.array([0.0, area_force]), np.zeros((2, k.N_SUMS))
    alpha = np.radians(alpha_deg)
    sidewash.py_func(x, np.cos(alpha), 0.0, np.sin(alpha), surfaces, 0, sums)
    return sums[0, k.Z_SIDEWASH]


def lift_of_pairs(places, strengths):
    """Return the lift over air density and speed of vortices at +-places (impulse)."""
    return 2.0 * float(np.dot(places, strengths))


def test_the_pair_carries_what_it_makes_the_body_lift():
    # Pitts, Nielsen and Kaattari, NACA Report 1307, 1957: images at r^2 / y inside the body; the
    # strake's own lift is that of the vortex bound between the body and y
    circulation = 1.0
    whole = lift_of_pairs([OUT_M, ROOT_M**2 / OUT_M], [circulation, -circulation])
    strakes = lift_of_pairs([OUT_M, ROOT_M], [circulation, -circulation])
    row = filled()
    assert row[k.F_SIDE_Y] == pytest.approx(OUT_M)
    assert row[k.F_SIDE] == pytest.approx(whole / strakes)


def across(y, z, core, sides):
    """Return the air to the right per circulation at a point on the centreline, from a pair."""
    total = 0.0
    for side, place in sides:
        off = y - place
        total -= side * z / (2.0 * np.pi * (off * off + z * z + core * core))
    return total


@pytest.mark.parametrize("alpha_deg", [5.0, 12.0, 25.0, 35.0])
def test_as_biot_and_savart_have_two_vortices_displaced_by_the_sideslip(alpha_deg):
    # lines of vortices that the air has carried aft and to the side; seen from behind the right
    # one goes round against the clock, as its strake lifts
    force, slip = 0.05, 1e-4
    row = filled()
    aft, out = row[k.F_SIDE_X], row[k.F_SIDE_Y]
    circulation = row[k.F_SIDE] * force / (4.0 * out)  # Kutta: N / (q V 2 y) / 2
    shift = -slip * aft  # wind from the right
    sides = ((1.0, out + shift), (-1.0, -out + shift))
    found = []
    for up in (1 / 6, 3 / 6, 5 / 6):
        high = 0.1 + 0.3 * up - aft * np.sin(np.radians(alpha_deg))
        found.append(circulation * across(0.0, high, out, sides))
    # that air to the left is sideslip from the right
    assert washed(alpha_deg, force) == pytest.approx(-np.mean(found) / slip, rel=0.02)


def test_a_fin_above_the_pair_is_steadied_and_one_below_is_not():
    assert washed(2.0, 0.05) > 0.0 > washed(35.0, 0.05)
