"""Shielding from the geometry alone, for tails low, cruciform, high, twin, of two end fins, none.

What must come out is common practice, no source: a tailplane on top of the fin falls into the
wing's wake (deep stall), a low one stays below it; fins far out stand beside the body's wake.
"""

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.loads.lanes import K_ACROSS, K_ALONG, SPOT_LANE
from sim.core.motion.derivative import derivative
from sim.core.motion.integrate import scratch
from sim.core.steady.statics import place
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble

SPEED = 12.0
FULL_AFT = np.array([1.0, 0.0, 0.0, 0.0])


def changed(surface, **values):
    return surface.model_copy(update=values)


def layout(kind):
    """Return the display jet with another tail; its fin and tailplane, moved."""
    jet = load_aeroplane("display_jet")
    keep = [s for s in jet.surfaces if s.role in ("wing", "strake")]
    tail = next(s for s in jet.surfaces if s.name == "tail")
    fin = next(s for s in jet.surfaces if s.name == "fin")
    made = {
        "low": [tail, fin],
        "cruciform": [changed(tail, root_up_mm=170.0, root_right_mm=5.0), fin],
        "high": [changed(tail, root_up_mm=320.0, root_right_mm=5.0, root_aft_mm=680.0), fin],
        "twin canted": [
            tail, changed(fin, mirrored=True, root_right_mm=60.0, dihedral_deg=70.0),
        ],
        "end fins": [
            tail,
            changed(fin, mirrored=True, root_right_mm=255.0, root_up_mm=-25.0, root_aft_mm=660.0),
        ],
        "none": [changed(tail, role="tail", root_aft_mm=640.0)],
    }[kind]  # fmt: skip
    names = [s.name for s in keep + made]
    masses = tuple(x for x in jet.airframe if x.of in names or x.of == "fuselage")
    channels = {c.channel for s in keep + made for c in s.controls}
    held = {name: value for name, value in jet.channels.items() if name in channels}
    return jet.model_copy(
        update={"surfaces": tuple(keep + made), "airframe": masses, "channels": held}
    )


def left(kind, alpha_deg, beta_deg=0.0, sticks=FULL_AFT, of=K_ACROSS):
    """Return the share of the air across each strip that wakes leave, squared, by surface."""
    aeroplane = layout(kind)
    ready = assemble(aeroplane, None)
    work, inputs = scratch(ready.model)
    x = np.zeros(work.k1.size)
    angles = np.radians([alpha_deg, beta_deg])
    place(x, ready.model, inputs, work, SPEED, *angles, 0.0, 0.0, 0.0, sticks)
    derivative(x, ready.model, inputs, work, True, work.k2)
    shares = work.lanes[work.spots[SPOT_LANE] + of] ** 2
    owner = ready.model.strip_index[k.SI_SURFACE]
    return {s.name: shares[owner == i] for i, s in enumerate(aeroplane.surfaces)}


LAYOUTS = ["low", "cruciform", "high", "twin canted", "end fins", "none"]


@pytest.mark.parametrize("kind", LAYOUTS)
def test_shares_are_shares_and_attached_flow_leaves_all(kind):
    for alpha_deg in (0.0, 20.0, 45.0, 80.0, 120.0, -40.0):
        for shares in left(kind, alpha_deg, 10.0).values():
            assert np.all((shares > 0.0) & (shares <= 1.0))
    still = left(kind, 3.0, sticks=np.zeros(4))
    assert all(np.all(shares > 0.97) for shares in still.values())


def test_a_high_tail_falls_into_the_wings_wake_and_a_low_one_does_not():
    assert left("high", 30.0)["tail"].mean() < 0.75
    assert left("low", 30.0)["tail"].mean() > 0.9


def test_fins_far_out_stand_beside_the_bodys_wake():
    assert left("end fins", 60.0)["fin"].mean() > left("low", 60.0)["fin"].mean()


def test_sideslip_uncovers_the_windward_of_two_fins():
    fins = left("twin canted", 45.0, 20.0)["fin"]
    right, leeward = np.split(fins, 2)
    assert abs(right.mean() - leeward.mean()) > 0.01


@pytest.mark.parametrize("kind", ["low", "twin canted", "high"])
def test_smooth_in_angle_of_attack(kind):
    angles = np.arange(20.0, 85.0, 1.0)
    for name in ("tail", "fin"):
        shares = np.array([left(kind, a)[name] for a in angles[::4]])
        assert np.abs(np.diff(shares, axis=0)).max() < 0.35  # within 4 degrees, any strip


def test_wakes_of_swept_surfaces_and_bodies_leave_more_along_the_chord():
    # the display jet's wing, strakes and tail are swept
    along, across = (left("low", 45.0, of=k)["fin"] for k in (K_ALONG, K_ACROSS))
    assert across.min() < 0.6
    assert np.all(along > across)
