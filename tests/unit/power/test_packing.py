"""What a file may say of a controller can be flown."""

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.core.loads import thrust
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.pack.assemble import assemble
from sim.power.packing import pack_power


def swept_in(seconds):
    """Return the trainer with a controller that sweeps in so many seconds."""
    aeroplane = load_aeroplane("club_sport")
    ((name, controller),) = aeroplane.controllers.items()
    quick = controller.model_copy(update={"full_sweep_s": seconds})
    return aeroplane.model_copy(update={"controllers": {name: quick}})


@pytest.mark.parametrize(("seconds", "flown"), [(0.0, 0.02), (0.001, 0.02), (0.25, 0.25)])
def test_a_controller_sweeps_no_quicker_than_a_step_can_follow(seconds, flown):
    aeroplane = swept_in(seconds)
    setup = assemble(aeroplane).setup
    assert pack_power(aeroplane, setup).units[:, thrust.U_SWEEP_TIME].tolist() == [flown]


def test_a_controller_without_a_ramp_flies():
    # 0 is allowed in a file; it gave NaN from the first step on
    flight = fly_one(
        assemble(swept_in(0.0)), load_manoeuvre("throttle_chop_stall"),
        load_recovery("centre_sticks"),
    )  # fmt: skip
    assert np.isfinite(flight.summary).all()


def test_a_rotor_too_light_for_a_step_loses_height_as_one_that_can_be_followed():
    # 1e-8 kg m2 is allowed in a file; a spin entry came out 12 m above its start with it
    aeroplane = load_aeroplane("club_sport")

    def lost(inertia):
        ((name, unit),) = aeroplane.propeller_units.items()
        light = {name: unit.model_copy(update={"rotor_inertia_kgm2": inertia})}
        ready = assemble(aeroplane.model_copy(update={"propeller_units": light}))
        flight = fly_one(ready, load_manoeuvre("spin_entry"), load_recovery("centre_sticks"))
        return flight.summary[s.R_DROP_ENTRY]

    assert lost(1e-8) == pytest.approx(lost(5e-5), abs=3.0)
