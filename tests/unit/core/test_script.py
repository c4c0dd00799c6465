"""The manoeuvre's state machine: what ends a phase, and when the next begins."""

import numpy as np
import pytest

from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.pilot.frames import is_against
from sim.core.pilot.pilot import move_sticks
from sim.core.pilot.script import Seen, advance, enter

TICK = 0.01


def phase(**columns):
    """Return a phase row of sticks that asks for nothing; columns by lower-case name."""
    row = np.zeros(s.N_PHASE)
    row[s.PH_ALPHA_ABOVE : s.PH_UNSTALLED] = s.NONE
    row[s.PH_AT_MOST] = 100.0
    row[s.PH_STAGE] = s.STAGE_ENTRY
    for name, value in columns.items():
        row[getattr(s, f"PH_{name.upper()}")] = value
    return row


class Script:
    """A script on the ground: the flight is whatever a test says it is."""

    def __init__(self, *phases, delay=0.0):
        self.phases = np.array(phases)
        self.env, self.pilot = np.zeros(k.N_ENV), np.zeros(k.N_PILOT)
        self.env[k.E_STALL_SPEED], self.env[k.E_STALL_ALPHA] = 10.0, np.radians(15.0)
        self.env[k.E_STALL_INVERTED] = np.radians(9.0)
        self.pilot[k.P_DELAY], self.pilot[k.P_STICK_RATE] = delay, 3.0
        self.pilot[k.P_AGAIN_FOR], self.pilot[k.P_MOST_RETRIES] = 0.3, 4.0
        self.judge = np.zeros(s.N_JUDGE)
        self.judge[s.J_STALL_MARGIN], self.judge[s.J_YAW] = np.radians(3.0), np.radians(40.0)
        self.memory = np.zeros(s.N_MEMORY)
        self.memory[s.Q_SIDE] = self.memory[s.Q_SPIN] = self.memory[s.Q_ERECT] = 1.0
        enter(self.memory, 0)
        self.t = 0.0

    @property
    def at(self):
        return int(self.memory[s.Q_PHASE])

    def tick(self, alpha=0.0, r=0.0, yaw=0.0, rotation=0.0, speed=15.0, path=0.0, rolling=0.0,
             pitching=0.0):  # fmt: skip
        self.t += TICK
        return advance(
            self.phases, self.env, self.pilot, self.judge, self.memory,
            Seen(alpha, r, yaw, rotation, 0.0, 0.0, speed, path, rolling, pitching), TICK,
        )  # fmt: skip

    def until_phase(self, index, most=20.0, **flight):
        """Tick until a phase begins; return when, or None."""
        while self.t < most:
            ended = self.tick(**flight)
            if self.at == index or ended:
                return self.t
        return None


def test_a_phase_ends_at_its_longest():
    script = Script(phase(at_most=0.5), phase())
    assert script.until_phase(1) == pytest.approx(0.5, abs=1.5 * TICK)


def test_a_condition_must_hold_for_as_long_as_asked():
    script = Script(phase(alpha_above=0.3, **{"for": 0.25}), phase())
    for _ in range(20):
        script.tick(alpha=0.4)
    script.tick(alpha=0.2)  # lost: the count starts again
    for _ in range(24):
        script.tick(alpha=0.4)
    assert script.at == 0
    for _ in range(3):
        script.tick(alpha=0.4)
    assert script.at == 1


def test_a_condition_is_not_heard_before_the_least_time():
    script = Script(phase(alpha_above=0.3, at_least=1.0), phase())
    assert script.until_phase(1, alpha=0.5) == pytest.approx(1.0, abs=2.5 * TICK)


def test_all_conditions_must_hold_together():
    script = Script(phase(yaw_rate_below=0.5, unstalled=1.0), phase())
    script.tick(alpha=0.5, r=0.1)
    script.tick(alpha=0.1, r=0.9)
    assert script.at == 0
    script.tick(alpha=0.1, r=-0.1)
    assert script.at == 1


@pytest.mark.parametrize(("alpha_deg", "begins"), [(12.0, True), (-12.0, False), (-8.0, True)])
def test_inverted_it_is_unstalled_below_its_own_stall(alpha_deg, begins):
    # stalls at 15 degrees upright and at 9 inverted
    script = Script(phase(unstalled=1.0), phase())
    script.tick(alpha=np.radians(alpha_deg))
    assert (script.at == 1) == begins


def test_a_pull_out_departs_again_beyond_the_stall_of_its_side():
    for alpha_deg, again in ((-13.0, True), (13.0, False)):
        script = Script(phase(stage=s.STAGE_RECOVERY), phase(stage=s.STAGE_PULL_OUT))
        enter(script.memory, 1)
        for _ in range(40):
            script.tick(alpha=np.radians(alpha_deg), yaw=1.0)
        assert (script.memory[s.Q_RETRIES] > 0.0) == again


def test_the_next_phase_waits_for_the_pilot():
    script = Script(phase(at_most=0.5), phase(reaction=1.0), delay=0.4)
    assert script.until_phase(1) == pytest.approx(0.9, abs=2.5 * TICK)


def test_turns_are_counted_about_the_vertical():
    # 2 rad/s for pi seconds is one turn
    script = Script(phase(turns_above=1.0), phase())
    assert script.until_phase(1, yaw=-2.0) == pytest.approx(np.pi, abs=2.5 * TICK)


def test_the_script_ends_with_its_last_phase():
    script = Script(phase(at_most=0.2))
    ended = [script.tick() for _ in range(25)]
    assert any(ended)
    assert not any(ended[:18])


@pytest.mark.parametrize(("r", "alpha"), [(1.0, 0.5), (-1.0, 0.5), (1.0, -0.5)])
def test_the_recovery_reads_which_way_it_spins(r, alpha):
    script = Script(phase(at_most=0.1), phase(stage=s.STAGE_RECOVERY))
    script.until_phase(1, r=r, alpha=alpha)
    assert script.memory[s.Q_SPIN] == np.sign(r)
    assert script.memory[s.Q_ERECT] == np.sign(alpha)


AGAINST = {"stage": s.STAGE_RECOVERY, "frame": s.FRAME_SPIN, "rudder": -1.0}


@pytest.mark.parametrize(("r", "rudder"), [(1.0, -1.0), (-1.0, 1.0), (0.3, 0.0), (-0.3, 0.0)])
def test_against_a_turn_too_slow_to_be_one_there_is_no_rudder(r, rudder):
    """40 deg/s are .7 rad/s; rudder against a stall without a turn would make one."""
    script = Script(phase(at_most=0.1), phase(**AGAINST, aileron=0.5))
    script.until_phase(1, r=r, alpha=0.5)
    for _ in range(100):
        script.tick(alpha=0.5, r=r)
        move_sticks(script.pilot, script.memory, script.phases[1], 0.0, 0.0, 15.0, TICK)
    assert script.memory[s.Q_RUDDER] == pytest.approx(rudder)
    assert script.memory[s.Q_AILERON] == pytest.approx(-0.5 * rudder)


def test_rudder_against_is_told_by_frame_and_sign():
    assert is_against(phase(**AGAINST))
    assert not is_against(phase(**{**AGAINST, "rudder": 1.0}))
    assert not is_against(phase(**{**AGAINST, "frame": s.FRAME_SIDE}))


def test_sticks_with_the_turn_have_a_side_however_slow_it_is():
    script = Script(phase(at_most=0.1), phase(**{**AGAINST, "rudder": 1.0}))
    script.until_phase(1, r=-0.3, alpha=0.5)
    for _ in range(100):
        script.tick(alpha=0.5, r=-0.3)
        move_sticks(script.pilot, script.memory, script.phases[1], 0.0, 0.0, 15.0, TICK)
    assert script.memory[s.Q_RUDDER] == pytest.approx(-1.0)


@pytest.mark.parametrize(
    ("begun", "seen", "alpha", "way"),
    [
        (1.0, -1.0, 0.5, -1.0),  # gone over into the other turn
        (0.1, 1.0, 0.5, 1.0),  # turns where it did not
        (1.0, 1.0, 0.5, None),  # still the turn that it is against
        (1.0, -0.3, 0.5, None),  # hardly turns
        (1.0, -1.0, 0.1, None),  # flies
    ],
)
def test_a_recovery_that_turns_the_other_way_begins_anew(begun, seen, alpha, way):
    """With the rudder of the turn that the pilot sees, as often as pilot.toml has it."""
    script = Script(
        phase(at_most=0.1), phase(**AGAINST, at_most=0.1),
        phase(**AGAINST, unstalled=1.0, **{"for": 5.0}, at_most=9.0),
    )  # fmt: skip
    script.memory[s.Q_YAW] = begun
    script.until_phase(2, r=begun, alpha=0.5)
    first = script.memory[s.Q_SPIN]
    script.memory[s.Q_YAW] = seen
    for _ in range(29):
        script.tick(alpha=alpha)
    assert (script.at, script.memory[s.Q_SPIN]) == (2, first)
    for _ in range(3):
        script.tick(alpha=alpha)
    assert (script.at, script.memory[s.Q_SPIN]) == ((2, first) if way is None else (1, way))
    script.until_phase(2, alpha=0.5)
    for _ in range(800):
        script.memory[s.Q_YAW] = -script.memory[s.Q_SPIN]
        script.tick(alpha=0.5)
    assert script.memory[s.Q_RETRIES] <= 4.0


def test_a_pull_out_that_departs_again_is_recovered_again():
    script = Script(
        phase(at_most=0.1), phase(stage=s.STAGE_RECOVERY, at_most=0.1),
        phase(stage=s.STAGE_PULL_OUT),
    )  # fmt: skip
    script.until_phase(2)
    for _ in range(29):
        script.tick(alpha=0.5, yaw=1.0)
    assert script.at == 2
    for _ in range(3):
        script.tick(alpha=0.5, yaw=1.0)
    assert script.at == 1
    assert script.memory[s.Q_RETRIES] == 1.0


def test_sticks_ramp_and_never_outrun_the_hand():
    script = Script(phase(elevator=1.0, ramp=0.5), delay=0.0)
    at = []
    for _ in range(60):
        script.tick()
        move_sticks(script.pilot, script.memory, script.phases[0], 0.0, 0.0, 15.0, TICK)
        at.append(script.memory[s.Q_ELEVATOR])
    assert at[24] == pytest.approx(0.5, abs=0.03)
    assert at[-1] == pytest.approx(1.0)
    script = Script(phase(elevator=1.0, ramp=0.0))
    script.tick()
    move_sticks(script.pilot, script.memory, script.phases[0], 0.0, 0.0, 15.0, TICK)
    assert script.memory[s.Q_ELEVATOR] == pytest.approx(3.0 * TICK)


@pytest.mark.parametrize("spin", [1.0, -1.0])
@pytest.mark.parametrize("erect", [1.0, -1.0])
def test_rudder_against_is_against_whichever_way_it_turns(spin, erect):
    # frame "spin": rudder by the turn seen in yaw; elevator and aileron turn over with
    # an inverted spin, where forward becomes aft and the roll goes the other way
    script = Script(phase(elevator=-0.6, aileron=1.0, rudder=-1.0, frame=s.FRAME_SPIN))
    script.memory[s.Q_SPIN], script.memory[s.Q_ERECT] = spin, erect
    for _ in range(100):
        script.tick()
        move_sticks(script.pilot, script.memory, script.phases[0], 0.0, 0.0, 15.0, TICK)
    sticks = script.memory[s.Q_ELEVATOR : s.Q_ELEVATOR + 3]
    assert sticks == pytest.approx([-0.6 * erect, spin * erect, -spin])


@pytest.mark.parametrize(
    ("asked", "level", "given"), [(0.7, 0.85, 0.85), (0.7, 0.4, 0.7), (0.0, 0.85, 0.0)]
)
def test_who_pulls_out_with_power_gives_no_less_than_level_flight_took(asked, level, given):
    # with less it would sink for ever, though nothing is stalled (common practice, no source)
    script = Script(phase(pilot=s.PILOT_PULL_OUT, throttle=asked))
    script.pilot[k.P_TRIM_THROTTLE] = level
    for _ in range(300):
        script.tick()
        move_sticks(script.pilot, script.memory, script.phases[0], 0.0, 0.0, 15.0, TICK)
    assert script.memory[s.Q_THROTTLE] == pytest.approx(given, abs=1e-6)
