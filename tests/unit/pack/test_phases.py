"""A script's phases as the kernel reads them: radians, stages, and how long it can last."""

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.pack.assemble import assemble
from sim.pack.errors import error_array
from sim.pack.phases import longest, phase_row, phase_table


def test_degrees_become_radians_and_stages_follow():
    entry, out = load_manoeuvre("incipient_spin"), load_recovery("stick_rocking")
    row = phase_row(out.phases[0], s.STAGE_RECOVERY)
    assert row[s.PH_YAW_RATE_BELOW] == pytest.approx(np.radians(45.0))
    table = phase_table(entry, out)
    assert table.shape == (len(entry.phases) + len(out.phases), s.N_PHASE)
    stages = [s.STAGE_ENTRY] * 2 + [s.STAGE_RECOVERY] * 2 + [s.STAGE_PULL_OUT]
    assert table[:, s.PH_STAGE].tolist() == stages
    assert longest(entry, out, 5.0) == pytest.approx(4.0 + 5.0 + 15.0 + 0.3 + 12.0 + 5.0)


def test_errors_are_made_for_the_air_of_the_field():
    ready = assemble(load_aeroplane("club_sport"))
    again = error_array(ready.model, ready.roles, ready.weighed.reference, ready.density)
    np.testing.assert_array_equal(again, ready.model.errors)
