"""Every bundled aeroplane in every set-up weighs, assembles, trims and flies to an end."""

from concurrent.futures import ThreadPoolExecutor
from functools import cache
from itertools import cycle

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.describe import bundled, load_aeroplane, load_manoeuvre, load_recovery, load_script
from sim.fly.flying import fly_one
from sim.pack.assemble import assemble
from sim.trim.trimming import level, modes, neutral_point_pct

PAIRS = [(name, setup) for name in bundled("aeroplanes") for setup in load_aeroplane(name).setups]
SLOW_MODES = {"phugoid", "spiral"}


@cache
def assembled(name, setup):
    return assemble(load_aeroplane(name), setup)


@cache
def trimmed(name, setup):
    ready = assembled(name, setup)
    return level(ready, 1.5 * ready.stall.speed_mps)


def club_setups():
    """The first set-up of each aeroplane is the one it is meant to be flown in."""
    return [(name, next(iter(load_aeroplane(name).setups))) for name in bundled("aeroplanes")]


@pytest.mark.parametrize(("name", "setup"), PAIRS)
def test_level_flight_at_one_and_a_half_stall_speeds(name, setup):
    trim = trimmed(name, setup)
    assert trim.found
    assert max(abs(trim.elevator_stick), abs(trim.aileron_stick), abs(trim.rudder_stick)) < 1.0
    assert 0.0 < trim.throttle < 1.0
    assert 0.0 < trim.alpha_deg < np.degrees(assembled(name, setup).stall.alpha)


@pytest.mark.parametrize(("name", "setup"), club_setups())
def test_the_first_set_up_is_stable(name, setup):
    """The margin is positive, and no fast mode grows."""
    ready, trim = assembled(name, setup), trimmed(name, setup)
    neutral, margin = neutral_point_pct(ready, trim)
    print(
        f"{name} {setup}: balance {ready.weighed.balance_pct_mac:.1f} % MAC, "
        f"neutral point {neutral:.1f}, margin {margin:.1f}"
    )
    assert margin > 0.0
    found = modes(ready, trim)
    assert {"short period", "roll", "Dutch roll"} <= {mode.name for mode in found}
    assert all(mode.real < 0.0 for mode in found if mode.name not in SLOW_MODES)


@pytest.mark.parametrize("name", ["club_sport", "twin_delta"])
def test_the_tail_heavy_set_up_is_plainly_too_far_aft(name):
    margins = [
        neutral_point_pct(assembled(name, setup), trimmed(name, setup))[1]
        for setup in ("club", "tail_heavy")
    ]
    assert margins[1] < min(2.0, margins[0] - 4.0)


def test_club_sport_has_the_margins_the_trade_gives_a_sport_model():
    """5 to 10 % sport, 10 to 15 % trainer, 0 to 5 % aerobatic (common practice, no source)."""
    club = neutral_point_pct(assembled("club_sport", "club"), trimmed("club_sport", "club"))[1]
    aerobatic = neutral_point_pct(
        assembled("club_sport", "aerobatic"), trimmed("club_sport", "aerobatic")
    )[1]
    assert 7.0 < club < 13.0
    assert 0.0 < aerobatic < 5.0


def test_club_sport_spins_at_a_light_aeroplanes_rate_and_comes_out():
    """Aerobatic set-up, full pro-spin sticks held, then rudder against and stick forward.

    Light aeroplanes' 145-208 deg/s (NASA TP-2644, abstract) are 396-568 at 1 m span by
    Froude's law, 330-480 at 1.4 m; 250-800 allows for the spread between types.
    """
    flight = fly_one(
        assembled("club_sport", "aerobatic"),
        load_manoeuvre("spin_entry"),
        load_recovery("rudder_forward"),
    )
    out = flight.summary
    assert out[s.R_SPUN] == 1.0
    assert 250.0 < abs(np.degrees(out[s.R_SPIN_YAW])) < 800.0
    assert 10.0 < out[s.R_SPIN_SINK] < 25.0
    assert out[s.R_BACK] == 1.0


@pytest.mark.xfail(
    strict=True,
    reason="28.4 degrees, 29.7 while stalled flaps were given back too much: its spin is too steep",
)
def test_club_sport_spins_at_a_light_aeroplanes_angle():
    """NASA TP-2644, abstract: 40-60 degrees; checks widen it to 30, and 28.4 is what it does."""
    flight = fly_one(
        assembled("club_sport", "aerobatic"),
        load_manoeuvre("spin_entry"),
        load_recovery("rudder_forward"),
    )
    assert 30.0 < np.degrees(flight.summary[s.R_SPIN_ALPHA]) < 60.0


@pytest.mark.parametrize("name", ["display_jet", "club_sport"])
def test_an_inverted_entry_comes_to_the_stall_inverted(name):
    """As its title has it: on its back from the start, slowed to the stall, there the rudder."""
    ready = assembled(name, "club")
    flight = fly_one(ready, load_manoeuvre("inverted_spin_entry"), load_recovery("rudder_forward"))
    h = flight.history
    first = int(np.argmax(np.abs(h[:, s.H_RUDDER]) > 0.0))
    before = h[60:first]
    assert (np.cos(before[:, s.H_PHI]) * np.cos(before[:, s.H_THETA]) < -0.7).all()
    assert before[:, s.H_ALPHA].max() < 0.0
    assert before[-1, s.H_SPEED] < 1.1 * ready.stall.speed_mps
    # the stall that follows is the inverted one
    assert h[first : first + 300, s.H_ALPHA].min() < -ready.stall.inverted


@pytest.mark.parametrize(("name", "setup"), PAIRS)
def test_every_manoeuvre_flies_to_a_finite_end(name, setup):
    scripts = [load_script(script) for script in bundled("manoeuvres")]
    ready = assembled(name, setup)
    # a unit that stops asks for another beside it
    lone = len(ready.model.units) == 1
    entries = [
        script
        for script in scripts
        if script.kind == "manoeuvre" and not (lone and script.name == "one_unit_stops")
    ]
    recoveries = [script for script in scripts if script.kind == "recovery"]
    assert entries
    assert recoveries
    with ThreadPoolExecutor(2) as pool:
        flights = list(
            pool.map(lambda pair: fly_one(ready, *pair), zip(entries, cycle(recoveries)))
        )
    for flight in flights:
        assert np.all(np.isfinite(flight.history)), flight.manoeuvre.name
        assert np.all(np.isfinite(flight.summary)), flight.manoeuvre.name
        assert flight.summary[s.R_STATUS] in (s.STATUS_DONE, s.STATUS_TIME, s.STATUS_DEPTH), (
            flight.manoeuvre.name
        )
