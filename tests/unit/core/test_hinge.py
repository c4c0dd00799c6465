"""The air's moments on servos in the kernel: closed forms, and where a weak servo is blown to."""

from math import radians

import numpy as np
import pytest

from sim.core import layout as k
from sim.core.loads.hinge import HM_ASKED, HM_MOMENT, HM_SLOPE, N_HINGE_MOMENT, hinge_moments
from sim.core.loads.hinge import separated_flap as separated
from sim.core.loads.lanes import K_DELTA, K_GONE, K_SPEED, SPOT_LANE
from sim.core.motion.derivative import derivative
from sim.core.motion.integrate import scratch
from sim.core.motion.rates import TARGETS
from sim.core.pilot.control import held_angle, servo_targets
from sim.core.steady.statics import hang
from sim.pack.field import field_density


def lean_of(share):
    return 0.25 - share / 6.0


@pytest.mark.parametrize("share", [0.2, 0.3, 0.5])
def test_plate_across_the_air_presses_evenly(share):
    # centre of pressure at half chord at 90 degrees (Eiffel's plates): half of C_N on any flap
    assert separated(1.17, -0.25 * 1.17, lean_of(share)) == pytest.approx(0.5 * 1.17)


@pytest.mark.parametrize("centre", [0.35, 0.40, 0.45, 0.5])
@pytest.mark.parametrize("normal", [0.9, -0.9])
def test_separated_flap_of_the_whole_chord_gives_back_the_section(centre, normal):
    # force times its arm about the leading edge, by definition of the centre of pressure
    found = separated(normal, normal * (0.25 - centre), lean_of(1.0))
    assert found == pytest.approx(normal * centre)


# ------------------------------------------------------------------ where a servo is held
def row(torque, stop=0.5):
    out = np.zeros(k.N_SERVO_COLS)
    out[k.V_TORQUE], out[k.V_MIN], out[k.V_MAX] = torque, -stop, stop
    return out


@pytest.mark.parametrize("wish", [0.4, -0.4])
def test_a_flap_is_blown_back_to_where_its_moment_is_the_torque(wish):
    # moment -K delta: at the most T/K either way, wherever it stands
    for at in (0.0, 0.1, -0.2):
        found = held_angle(wish, at, -0.5 * at, -0.5, row(0.1))
        assert found == pytest.approx(np.copysign(0.2, wish))
    assert held_angle(0.15, 0.4, -0.5 * 0.4, -0.5, row(0.1)) == pytest.approx(0.15)


def test_the_air_moves_the_middle_of_what_is_held():
    # moment -K (delta + d): T/K either side of -d
    held = [held_angle(x, 0.0, -0.5 * 0.3, -0.5, row(0.1)) for x in (0.45, 0.0, -0.45)]
    assert held == pytest.approx([-0.1, -0.1, -0.45])


def test_a_moment_that_feeds_itself_runs_to_the_stop():
    # moment +K delta, torque passed beyond T/K: held inside, at the stop outside or on the way
    weak = row(0.1)
    assert held_angle(0.15, 0.1, 0.05, 0.5, weak) == 0.15
    assert held_angle(0.3, 0.1, 0.05, 0.5, weak) == 0.5
    assert held_angle(0.0, 0.25, 0.125, 0.5, weak) == 0.5
    assert held_angle(0.0, -0.25, -0.125, 0.5, weak) == -0.5


def test_a_moment_that_knows_no_deflection_is_held_or_not():
    assert held_angle(0.2, 0.0, 0.09, 0.0, row(0.1)) == 0.2
    assert held_angle(0.2, 0.0, -0.11, 0.0, row(0.1)) == -0.5


# ------------------------------------------------------------------ the aeroplane's own
class Held:
    """The display jet held in the air, all its servos with one torque [N m]."""

    def __init__(self, jet, torque, speed, alpha_deg):
        servos = jet.model.servos.copy()
        servos[:, k.V_TORQUE] = torque
        self.model = jet.model._replace(servos=servos)
        self.rho, self.channels = field_density(jet.aeroplane), jet.aero.channels
        self.work, self.inputs = scratch(self.model)
        self.x = np.zeros(self.work.k1.size)
        self.x[self.x.size - self.model.strips.shape[1] :] = 1.0
        self.hinge = np.zeros((len(servos), N_HINGE_MOMENT))
        hang(
            self.x, self.model, self.inputs, self.work, speed, radians(alpha_deg), 0.0, 0.0, 0.0,
            0.0, 0.0,
        )  # fmt: skip

    def at(self, servo, delta):
        """Return moment and slope with one servo at ``delta`` [rad], all lags as they are."""
        self.x[k.X_SERVO + servo] = delta
        work = self.work
        derivative(self.x, self.model, self.inputs, work, TARGETS, work.k2)
        hinge_moments(
            self.rho, work.hinges, work.hinged, work.lanes, work.tables, self.model.servos,
            self.hinge,
        )  # fmt: skip
        return self.hinge[servo, HM_MOMENT], self.hinge[servo, HM_SLOPE]

    def lane(self, servo, which):
        mine = self.model.strip_index[k.SI_CHANNEL] == servo
        return self.work.lanes[self.work.spots[SPOT_LANE, mine] + which]

    def push(self, servo, row):
        """Return dynamic pressure [Pa] times a row of its strips."""
        mine = self.model.strip_index[k.SI_CHANNEL] == servo
        return 0.5 * self.rho * self.lane(servo, K_SPEED) ** 2 * self.model.strips[row, mine]


def test_a_rudder_in_straight_attached_air_has_its_slope_alone(display_jet):
    # M = -q sum(S c) b delta: no incidence on a fin that meets no sideslip
    held = Held(display_jet, 1.0, 25.0, 0.0)
    rudder = held.channels["rudder", 0.0]
    moment, slope = held.at(rudder, radians(6.0))
    assert held.lane(rudder, K_GONE).max() < 0.01
    mine = held.model.strip_index[k.SI_CHANNEL] == rudder
    wanted = -(held.push(rudder, k.S_HINGE) * held.model.strips[k.S_HINGE_SLOPE, mine]).sum()
    assert slope == pytest.approx(wanted, rel=0.02)
    assert moment == pytest.approx(wanted * radians(6.0), rel=0.05)


def test_an_overpowered_rudder_stands_at_the_closed_form(display_jet):
    # torque over what a radian takes, at a known dynamic pressure; tick by tick as in a flight
    torque, none = 0.02, np.zeros(3)
    held = Held(display_jet, torque, 45.0, 0.0)
    rudder = held.channels["rudder", 0.0]
    target, off = np.zeros(len(held.hinge)), np.zeros(len(held.hinge))
    delta = 0.0
    for _ in range(12):
        held.at(rudder, delta)
        servo_targets(
            held.model.servos, np.array([0.0, 0.0, 1.0, 0.0]), none, none, none, held.hinge,
            target, off,
        )  # fmt: skip
        delta += 0.4 * (target[rudder] - delta)
    mine = held.model.strip_index[k.SI_CHANNEL] == rudder
    each = (held.push(rudder, k.S_HINGE) * held.model.strips[k.S_HINGE_SLOPE, mine]).sum()
    assert abs(target[rudder]) == pytest.approx(torque / each, rel=0.03)
    full = radians(22.0)
    assert abs(off[rudder]) == pytest.approx(full - torque / each, rel=0.03)
    assert abs(held.hinge[rudder, HM_ASKED]) == pytest.approx(each * full, rel=0.03)


def test_a_tail_on_its_quarter_chord_needs_its_moment_alone(display_jet):
    # thin-aerofoil theory: attached flow has no moment about the quarter chord of a symmetric
    # section, so next to none; beyond the stall the centre of pressure has moved back
    arms = display_jet.model.strips.copy()
    arms[k.S_HINGE_ARM] = 0.0
    jet = type(display_jet)(**{
        **vars(display_jet), "model": display_jet.model._replace(strips=arms)
    })  # fmt: skip
    tail = jet.aero.channels["tail", 1.0]
    chord = arms[k.S_CHORD, jet.model.strip_index[k.SI_CHANNEL] == tail]
    for alpha, low, high in ((3.0, 0.0, 0.02), (45.0, 0.08, 0.25)):
        held = Held(jet, 1.0, 20.0, alpha)
        moment, _ = held.at(tail, 0.0)
        share = abs(moment) / (held.push(tail, k.S_AREA) * chord).sum()
        assert low <= share < high


@pytest.mark.parametrize(("alpha", "delta"), [(3.0, 4.0), (45.0, -6.0), (80.0, 3.0)])
def test_a_tails_slope_is_that_of_its_moment(display_jet, alpha, delta):
    # by definition of a slope: the difference over a small turn, lags held
    held = Held(display_jet, 1e-6, 20.0, alpha)
    tail = held.channels["tail", 1.0]
    _, slope = held.at(tail, radians(delta))
    low, high = (held.at(tail, radians(delta) + x)[0] for x in (-1e-5, 1e-5))
    assert slope == pytest.approx((high - low) / 2e-5, rel=0.02, abs=1e-5)
    assert held.lane(tail, K_DELTA) == pytest.approx(radians(delta) + 1e-5)


def test_a_servo_without_a_torque_costs_nothing(display_jet):
    assert scratch(Held(display_jet, 0.0, 20.0, 3.0).model)[0].hinged.shape[0] == 0
