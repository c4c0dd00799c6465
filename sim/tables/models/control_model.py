"""Hinge moments, end stops and a gyro's hold: control_model.toml."""

from sim.tables.typed import Angle, Factor, PerSecond, Seconds, Share, Table


class ControlModel(Table):
    """control_model.toml; hinge-moment slopes per radian."""

    flap_per_rad: Factor
    arm_share: Share
    stop_over_throw: Factor
    hold_per_s: PerSecond
    hold_limit_deg: Angle
    centred_stick: Share
    least_servo_lag_s: Seconds
    least_sweep_s: Seconds
    quickest_rotor_per_s: PerSecond
