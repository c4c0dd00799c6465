"""The wing's vortex sheet at the fins, and what an aileron yaws without one."""

from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad

import sim
from sim.core import layout as k
from sim.core.loads.fin_air import sheet_mean
from sim.core.motion.derivative import offsets
from sim.core.motion.integrate import scratch
from sim.core.steady.statics import hang
from sim.fly.tunnel.reference import servo_angles
from tests.validation.whole_data import deflections

LIGHT = Path(__file__).parents[2] / "validation" / "light_high_wing.toml"


def wash(up, out):
    """Return the speed to the right at (out, up) of the sheet of y sqrt(1 - y^2), twice over.

    Biot and Savart by quadrature, y = sin t: a straight endless leg of unit circulation at y
    makes up / (2 pi (up^2 + (out - y)^2)) there.
    """

    def leg(t):
        shed = 1.0 - 2.0 * np.sin(t) ** 2  # d/dy of the circulation, times dy/dt
        return shed * up / (up**2 + (out - np.sin(t)) ** 2)

    return quad(leg, -0.5 * np.pi, 0.5 * np.pi, limit=200, epsabs=1e-10)[0] / np.pi


@pytest.mark.parametrize("out", [0.0, 0.2, 0.9, 1.3])
def test_the_mean_over_a_fin_is_that_of_biot_and_savart(out):
    low, high = 0.15, 0.7
    mean = quad(lambda z: wash(z, out), low, high, epsabs=1e-8)[0] / (high - low)
    assert (sheet_mean(high, out) - sheet_mean(low, out)) / (high - low) == pytest.approx(
        mean, abs=1e-6
    )
    # half above and half below the sheet: nothing
    assert sheet_mean(0.3, out) == pytest.approx(sheet_mean(-0.3, out))


def light(*roles):
    """Return the light aeroplane with surfaces of these roles, its wing flat."""
    read = sim.load_aeroplane(LIGHT)
    kept = tuple(
        s.model_copy(update={"dihedral_deg": 0.0}) if s.role == "wing" else s
        for s in read.surfaces if s.role in roles
    )  # fmt: skip
    names = {s.name for s in kept} | {b.name for b in read.bodies}
    first = read.setups[read.first_setup]
    placed = first.model_copy(
        update={"balance_aft_mm": None, "pack_aft_mm": read.tray.front_aft_mm}
    )
    frame = tuple(a for a in read.airframe if a.of in names)
    setups = {**read.setups, read.first_setup: placed}
    return sim.assemble(
        read.model_copy(update={"surfaces": kept, "airframe": frame, "setups": setups})
    )


def by_aileron(ready, alpha):
    """Return CL, and Cl, Cn, CD (n,) that 10 degrees of aileron add, moments on wind axes."""
    turned = deflections(ready.aeroplane, "aileron", 10.0)
    plain = sim.coefficients(ready, alpha_deg=alpha)
    rolled = sim.coefficients(ready, alpha_deg=alpha, deflections_deg=turned)
    c, s = np.cos(np.radians(alpha)), np.sin(np.radians(alpha))
    roll, yaw = rolled.Cl - plain.Cl, rolled.Cn - plain.Cn
    return plain.CL, roll * c + yaw * s, yaw * c - roll * s, rolled.CD - plain.CD


def test_ailerons_yaw_and_drag_as_the_lifting_line_has_it():
    # yaw 3 CL Cl/(pi AR) against the roll, drag 32 Cl^2/(pi AR): Prandtl's first two terms on an
    # elliptic wing. To a fifth: ailerons load the outer wing, not all of it
    ready = light("wing", "tail")
    reference = ready.weighed.reference
    ratio = np.pi * reference.span_m**2 / reference.area_m2
    lift, roll, yaw, drag = by_aileron(ready, np.array([2.0, 4.0, 6.0]))
    assert yaw == pytest.approx(-3.0 * lift * roll / ratio, rel=0.2)
    assert drag == pytest.approx(32.0 * roll**2 / ratio, rel=0.2)


def test_the_fin_takes_from_the_ailerons_yaw():
    # what is above the sheet is washed to the side that lifts more, and the tail follows the roll
    alpha = np.array([0.0, 4.0, 8.0])
    with_fin, without = (by_aileron(light(*r, "wing", "tail"), alpha)[2] for r in (("fin",), ()))
    assert (with_fin < without).all()
    row = light("wing", "tail", "fin").model.surfaces
    assert np.count_nonzero(row[:, k.F_SHEET]) == 1


def test_the_sheet_goes_with_all_of_the_lift_that_one_side_has_more():
    # beyond the stall the side with its aileron down lifts more, yet has less attached flow
    ready = light("wing", "tail", "fin")
    model = ready.model
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    _, _, o_induced, o_wash, o_x = offsets(model)
    assert x.size == o_x + model.strips.shape[1]
    x[o_x:] = 1.0
    inputs.target[:] = servo_angles(ready, deflections(ready.aeroplane, "aileron", 10.0), ())
    wing = int(model.surfaces[:, k.F_SHEET_OF].max())
    for alpha_deg in (4.0, 24.0):
        hang(x, model, inputs, work, 20.0, np.radians(alpha_deg), 0.0, 0.0, 0.0, 0.0, 0.0)
        own, sheet = x[o_induced + 2 * wing + 1], x[o_wash + model.surfaces.shape[0] + wing]
        assert sheet > 0.0
        # in steady flow what the wing does to itself is as great
        assert own == pytest.approx(sheet, rel=0.1)
