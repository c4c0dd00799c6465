"""How long models fly on a pack; common practice, no source (from memory)."""

import pytest

from sim.describe import SetUpBlock, load_aeroplane
from sim.pack.assemble import assemble
from sim.study.flight_time.reckoning import flight_time


def timed(name, pack):
    aeroplane = load_aeroplane(name)
    return flight_time(assemble(aeroplane, SetUpBlock(like=aeroplane.first_setup, pack=pack)))


@pytest.mark.parametrize("pack", ["6s_4000", "6s_5000"])
def test_an_80_mm_jet_lands_after_three_to_six_minutes(pack):
    """2 to 2.5 kg on six cells: 20 to 35 A in ordinary flying, 3 to 6 min on 4 to 5 Ah."""
    time = timed("display_jet", pack)
    assert 20.0 <= time.current_a <= 35.0
    assert 3.0 <= time.timer_min <= 6.0
    # flown at 25 to 35 m/s; level flight alone tells nearly twice too much
    assert 25.0 <= time.works[0].speed_mps <= 35.0
    assert time.cruise_alone_min > 1.5 * time.minutes.middle


def test_a_twin_of_64_mm_on_four_cells():
    """1.3 to 1.9 kg: 3 to 5 min."""
    assert 3.0 <= timed("twin_delta", "4s_3300").timer_min <= 5.0


def test_a_propeller_model_flies_longer():
    """1.5 m and 1.6 kg on four cells: 5 to 8 min; 2.2 Ah in three cells and 1 kg: 6 to 10.

    The sport model is heavier; per watt-hour and kilogramme the second is 24 / 1.0 for 6 to 10.
    """
    time = timed("club_sport", "4s_2600")
    assert 5.0 <= time.timer_min <= 8.0
    assert 6.0 <= time.minutes.middle <= 10.0
