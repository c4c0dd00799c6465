"""The published fighter, flown: it hangs aft of its hang balance, and not ahead of it.

NASA TP-1538 (L. T. Nguyen and others, *Simulator Study of Stall/Post-Stall Characteristics of a
Fighter Airplane With Relaxed Longitudinal Static Stability*, 1979): with its balance too far
aft the aeroplane has a trim at high angle of attack that full nose-down stabilator does not
leave, near 60 degrees (from memory); its tables, with full down carried on, put the balance at
which this begins at 41.2 % of the mean chord, ours at 38.6. Flight tests after it: rocking the
nose with the stick, in phase with its oscillation, brought the aeroplane out, where holding the
stick forward did not (from memory, no figures).

The file's fan is shut and its masses are placeholders, so what is flown is a glide, and
whether it flies away is not asked; nor are periods and sinks compared.
"""

from functools import lru_cache

import numpy as np
import pytest

import sim
from sim.core import script_layout as s
from sim.describe import Manoeuvre, Recovery, SetUpBlock
from sim.fly.flying import Flight, fly_one
from tests.validation import whole
from tests.validation.whole_deep_stall import RANGE_DEG

FIGHTER = whole.development()[1]
pytestmark = pytest.mark.skipif(
    not FIGHTER.aeroplane.is_file(), reason="the measured fighter lies beside the repository"
)
FORMAT = "aftlimit.manoeuvre/1"
HELD_S = 8.0


def script(kind, name: str, start: dict | None = None, **phase: object):
    told = {"schema": FORMAT, "kind": kind.own_kind, "name": name, "title": name, "start": start}
    phases = ({"name": "one", "throttle": 0.0, **phase},)
    return kind.model_validate({**told, "phases": phases}, strict=False)


# slowly to the stop and held there: a quick stick would throw it through
ENTRY = script(
    Manoeuvre, "settle", {"speed_over_stall": 1.2}, elevator=1.0, pilot="wings_level",
    ramp_s=3.0, at_most_s=10.0,
)  # fmt: skip
FORWARD = script(Recovery, "forward", elevator=-1.0, ramp_s=3.0, at_most_s=HELD_S)


@lru_cache
def balanced(pct: float):
    plane = FIGHTER.load()
    ref = sim.assemble(plane).weighed.reference
    aft_m = ref.mean_chord_aft_m + pct / 100.0 * ref.mean_chord_m
    return sim.assemble(plane, SetUpBlock(pack="one", balance_aft_mm=1000.0 * aft_m))


@lru_cache
def flown(pct: float, recovery: str = "") -> Flight:
    way = sim.load_recovery(recovery) if recovery else FORWARD
    return fly_one(balanced(pct), ENTRY, way, height_m=3000.0)


def recovering(flight: Flight) -> np.ndarray:
    """Return the angles of attack [deg] from the first input of the recovery on."""
    return np.degrees(flight.history[flight.history[:, s.H_STAGE] > s.STAGE_ENTRY, s.H_ALPHA])


@pytest.mark.parametrize("pct", [46.0, 47.0])
def test_full_forward_stick_does_not_end_it_aft_of_the_hang_balance(pct):
    flight = flown(pct)
    low, high = RANGE_DEG
    assert low < np.degrees(flight.summary[s.R_HANG_ALPHA]) < high
    # the whole of the time but for what the smoothed stick takes to leave its aft stop
    assert flight.summary[s.R_HUNG_FOR] > HELD_S - 2.5
    assert recovering(flight).min() > 20.0


@pytest.mark.parametrize("pct", [34.0, 36.0])
def test_it_comes_down_ahead_of_it(pct):
    flight = flown(pct)
    assert flight.summary[s.R_HUNG_FOR] == 0.0
    assert recovering(flight).min() < 5.0


def test_it_begins_near_the_balance_of_the_static_margin():
    """Known to hang with its balance at 35 to 40 % (from memory); 41.2 by the tables' moments.

    Ours hangs from 38 % in flight, and from 38.6 by its static moments; from 48 % on the entry
    throws it through into a tumble, which the stick ends no more than the hang.
    """
    hangs = [pct for pct in range(34, 48, 2) if flown(float(pct)).summary[s.R_HUNG_FOR] > 0.0]
    assert 35 <= min(hangs) <= 42
    assert hangs == list(range(min(hangs), 48, 2))


@pytest.mark.xfail(
    strict=True,
    reason="it hangs 1 to 2 % of the chord further forward than by the measured moments: at 41 % "
    "full forward stick still lifts the nose from 30 to 52 degrees, and a swing must fall through "
    "all of that; with the published inertia it does not either; with the edge straight it did",
)
def test_rocking_brings_out_what_holding_forward_does_not():
    """From memory of flight tests after NASA TP-1538: in-phase rocking ends it, by growing swings.

    Ours does at 40 % of the chord, 1.3 % behind where it hangs; at 39 it comes to 19 degrees and
    no further within 15 s, at 41 to 26, from 42 on to 30. Forward of 55 degrees full forward stick
    adds little to neutral, the tail then being straight across the air; it is letting go of full
    aft stick that pitches down.
    """
    for pct in (41.0, 42.0):
        alpha = recovering(flown(pct, "stick_rocking"))
        assert recovering(flown(pct)).min() > 20.0
        assert alpha.min() < 5.0
        before = alpha[: int(np.argmax(alpha < 5.0))]
        inner = before[1:-1]
        peaks = inner[(inner > before[:-2]) & (inner >= before[2:]) & (inner > before.mean())]
        assert len(peaks) >= 2
        assert (np.diff(peaks) > 0.0).all()
