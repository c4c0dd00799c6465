"""Records of a study's checks, of steady spins and of a card."""

import numpy as np

from sim.describe import load_study_files
from sim.pack.stalling import Stall
from sim.record.models.beyond import assembled_setups
from sim.record.models.spins import spin_record
from sim.spin.equilibrium import Held


def test_set_ups_stand_in_the_studys_order():
    files = load_study_files("first_look")
    ready = assembled_setups(files)
    assert [a.setup.name for a in ready] == [block.name for block in files.study.setups]


def test_sticks_are_named_and_no_spin_is_an_empty_list():
    held = Held(np.array([1.0, 0.0, -1.0, 0.5]), np.array([0.1, 0.0, 0.0]))
    told = spin_record(held, [], Stall(np.radians(12.0), 10.0, 1.0, False, np.radians(18.0)))
    assert (told.held.elevator, told.held.rudder, told.held.elevator_trim) == (1.0, -1.0, 0.1)
    assert told.content()["equilibria"] == []
