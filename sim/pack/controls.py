"""Servo, gyro and pilot arrays from channels, servo types, gyro and the pilot table."""

from math import radians

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.describe.aeroplane import Aeroplane
from sim.describe.controls import FLAP
from sim.describe.setup import SetUp
from sim.pack.stalling import Stall

NM = 0.01  # N m in a N cm


def servo_array(
    aeroplane: Aeroplane, setup: SetUp, rows: dict[tuple[str, float], int]
) -> np.ndarray:
    """Return the servo array (c, N_SERVO_COLS), one row a (channel, side).

    Degrees become [rad], torques [N m], nought where none is stated. Own: end stops as a multiple
    of the throws (control_model.toml).
    """
    values = tables.control_model()
    out = np.zeros((len(rows), k.N_SERVO_COLS))
    for (name, side), i in rows.items():
        channel = aeroplane.channels[name]
        throw, stick = setup.throws[name], setup.sticks[name]
        servo = aeroplane.servo_types[channel.servo]
        out[i, k.V_RATE] = radians(servo.rate_dps)
        out[i, k.V_LAG] = max(servo.lag_s, values.least_servo_lag_s)
        stop = radians(max(throw.up_deg, throw.down_deg)) * values.stop_over_throw
        out[i, k.V_MIN], out[i, k.V_MAX] = -stop, stop
        out[i, k.V_DEADBAND] = radians(servo.deadband_deg)
        out[i, k.V_POSITIVE] = radians(throw.down_deg)
        out[i, k.V_NEGATIVE] = radians(throw.up_deg)
        out[i, k.V_TORQUE] = NM * (servo.torque_ncm or 0.0)
        if name == FLAP:
            out[i, k.V_OFFSET] = radians(setup.flap_deg)
        lying = 1.0 if side == 0.0 else side
        out[i, k.V_MIX_ELEVATOR] = -stick.elevator
        out[i, k.V_MIX_AILERON] = -lying * stick.aileron
        out[i, k.V_MIX_RUDDER] = lying * stick.rudder
    return out


def gyro_array(setup: SetUp) -> np.ndarray:
    """Return the gyro array (N_GYRO,); all zero where it is off or absent."""
    out = np.zeros(k.N_GYRO)
    gyro = setup.gyro_settings
    if gyro is None or setup.gyro == "off":
        return out
    values = tables.control_model()
    out[k.G_ON] = 1.0
    out[k.G_ROLL], out[k.G_PITCH], out[k.G_YAW] = gyro.roll_gain, gyro.pitch_gain, gyro.yaw_gain
    out[k.G_FILTER], out[k.G_DELAY] = gyro.filter_s, gyro.delay_s
    out[k.G_OVERRIDE] = 1.0 if gyro.stick_override else 0.0
    if gyro.mode == "hold":
        out[k.G_HOLD] = values.hold_per_s
        out[k.G_HOLD_LIMIT] = radians(values.hold_limit_deg)
    out[k.G_CENTRED] = values.centred_stick
    out[k.G_IDLE], out[k.G_HALF], out[k.G_FULL] = gyro.throttle_schedule
    return out


def pilot_array(aeroplane: Aeroplane, stall: Stall) -> np.ndarray:
    """Return the pilot array (N_PILOT,) without trims, which each flight finds.

    Own: the pilot of pilot.toml; angles [rad].
    """
    values = tables.pilot()
    out = np.zeros(k.N_PILOT)
    out[k.P_DELAY] = values.reaction_s
    out[k.P_STICK_RATE] = values.stick_rate_per_s
    out[k.P_PERCEPTION] = values.perception_s
    out[k.P_ALPHA_LIMIT] = stall.alpha - radians(values.alpha_margin_deg)
    out[k.P_LOAD_LIMIT] = aeroplane.structure.max_load_factor_g * values.load_share
    out[k.P_K_ALPHA] = values.gain_alpha
    out[k.P_K_Q] = values.gain_pitch_rate
    out[k.P_K_BANK] = values.gain_bank
    out[k.P_K_P] = values.gain_roll_rate
    out[k.P_K_PATH] = values.gain_path
    out[k.P_AGAIN_FOR] = values.again_for_s
    out[k.P_MOST_RETRIES] = values.most_retries
    out[k.P_LOAD_FROM] = values.load_from_share
    out[k.P_NO_PULL_BANK] = values.no_pull_bank_rad
    out[k.P_SLOWEST] = values.slowest_mps
    out[k.P_NO_LIFT] = stall.no_lift
    out[k.P_K_PULL] = values.gain_pull_per_s
    out[k.P_AIM_PATH] = radians(values.aim_path_deg)
    out[k.P_EXPO_E] = aeroplane.expo.elevator_pct / 100.0
    out[k.P_EXPO_A] = aeroplane.expo.aileron_pct / 100.0
    out[k.P_EXPO_R] = aeroplane.expo.rudder_pct / 100.0
    return out
