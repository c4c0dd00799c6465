"""An aeroplane turned over, seen in a mirror that lies flat, has its forces mirrored.

Angle of attack, rolling and pitching rates change sign with it, sideslip and yawing rate do not;
so do CZ, Cl and Cm, while CX, CY and Cn stay. By geometry: no source.
"""

import numpy as np
import pytest

import sim
from sim.describe import load_aeroplane

ALPHAS = np.arange(-180.0, 180.1, 7.5)
FLIPPED = {"CX": 1.0, "CY": 1.0, "CZ": -1.0, "Cl": -1.0, "Cm": -1.0, "Cn": 1.0}
SAME = 1e-9  # of a coefficient
OTHER_WAY = {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}
# sideslip [deg], pb/2V, qc/2V, rb/2V
AIRS = [(0.0, 0.0, 0.0, 0.0), (6.0, 0.0, 0.0, 0.0), (15.0, 0.05, 0.0, 0.03), (0.0, 0.0, 0.02, 0.04)]


def changed(things, **keys):
    """Return copies with each key's value as its function makes it of the thing."""
    return tuple(x.model_copy(update={key: made(x) for key, made in keys.items()}) for x in things)


def uncambered(aeroplane):
    """Return the aeroplane with camber and drooped edges taken out: they have no mirror image."""
    surfaces = changed(
        aeroplane.surfaces, droop=lambda s: None,
        section=lambda s: s.section.model_copy(update={"camber_pct": 0.0, "table": None}),
    )  # fmt: skip
    return aeroplane.model_copy(update={"surfaces": surfaces})


def turned_over(aeroplane):
    """Return the mirror image in the plane of the datum."""

    def minus(*keys):
        return {key: lambda x, key=key: -getattr(x, key) for key in keys}

    def kinds(units):
        return {
            name: unit.model_copy(update={"rotates": OTHER_WAY[unit.rotates]})
            for name, unit in units.items()
        }

    set_at = minus("root_up_mm", "dihedral_deg", "incidence_deg", "washout_deg")
    ducts = minus("up_mm", "inlet_up_mm", "nozzle_up_mm", "thrust_tilt_deg")
    return aeroplane.model_copy(
        update={
            "surfaces": changed(aeroplane.surfaces, **set_at),
            "bodies": changed(
                aeroplane.bodies, stations=lambda b: changed(b.stations, **minus("up_mm"))
            ),
            "fans": changed(aeroplane.fans, **ducts),
            "fan_units": kinds(aeroplane.fan_units),
            "propellers": changed(aeroplane.propellers, **minus("up_mm", "thrust_tilt_deg")),
            "propeller_units": kinds(aeroplane.propeller_units),
        }
    )


def double(aeroplane):
    """Return an aeroplane that is its own mirror image: all in one plane, two fins up and down."""
    fin = aeroplane.surfaces_as("fin")[0]
    lying = changed(
        (s for s in aeroplane.surfaces if s.role != "fin"),
        root_up_mm=lambda s: 0.0, dihedral_deg=lambda s: 0.0, incidence_deg=lambda s: 0.0,
        washout_deg=lambda s: 0.0,
    )  # fmt: skip
    keel = fin.model_copy(
        update={
            "name": "keel", "root_up_mm": -fin.root_up_mm, "dihedral_deg": -90.0,
            "controls": changed(fin.controls, channel=lambda c: "keel"),
        }
    )  # fmt: skip
    bodies = changed(aeroplane.bodies, stations=lambda b: changed(b.stations, up_mm=lambda t: 0.0))
    channels = {**aeroplane.channels, "keel": aeroplane.channels["rudder"]}
    return aeroplane.model_copy(
        update={"surfaces": (*lying, fin, keel), "bodies": bodies, "channels": channels}
    )


def measured(aeroplane, back_mm, side, air, turned, throttle=None):
    """Return the coefficients (6, n), mirrored back where ``side`` is -1."""
    beta, p, q, r = air
    found = sim.coefficients(
        aeroplane, alpha_deg=side * ALPHAS[::int(side)], beta_deg=beta, speed_mps=18.0,
        rates=(side * p, side * q, r), deflections_deg=turned, throttle=throttle,
        reference=sim.TunnelReference(aft_mm=back_mm, up_mm=0.0),
    )  # fmt: skip
    signs = np.array([1.0 if side > 0.0 else sign for sign in FLIPPED.values()])
    return np.stack([getattr(found, name)[:: int(side)] for name in FLIPPED]) * signs[:, None]


@pytest.mark.parametrize("air", AIRS)
def test_what_is_its_own_mirror_image_has_mirrored_forces(air):
    ready = sim.assemble(double(uncambered(load_aeroplane("display_jet"))))
    back = -1000.0 * float(ready.weighed.balance_m[0])
    turned = {"tail": -12.0, "aileron right": 9.0, "aileron left": -9.0}
    other = {name: -angle for name, angle in turned.items()}
    turned |= {"rudder": 14.0, "keel": -5.0}
    other |= {"rudder": -5.0, "keel": 14.0}
    for there, here in (({}, {}), (turned, other)):
        one = measured(ready, back, 1.0, air, there)
        two = measured(ready, back, -1.0, air, here)
        assert np.abs(one[2]).max() > 0.5  # it is flown far enough to tell
        assert np.abs(one - two).max() < SAME


@pytest.mark.parametrize("air", AIRS)
@pytest.mark.parametrize("throttle", [None, 0.7])
@pytest.mark.parametrize("name", ["display_jet", "club_sport", "twin_delta"])
def test_bundled_aeroplanes_turned_over(name, throttle, air):
    # fins and tails off the plane of the wing, thrust that is not through the balance point
    plain = uncambered(load_aeroplane(name))
    ready, other = sim.assemble(plain), sim.assemble(turned_over(plain))
    back = -1000.0 * float(ready.weighed.balance_m[0])
    one = measured(ready, back, 1.0, air, {}, throttle)
    two = measured(other, back, -1.0, air, {}, throttle)
    assert np.abs(one[2]).max() > 0.5
    assert np.abs(one - two).max() < SAME
