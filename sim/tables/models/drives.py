"""What nobody measures of what drives an aeroplane: drives.toml."""

from typing import Annotated

from sim.describe.quantity import Filled, between
from sim.tables.typed import Factor, Share, Table

Plenty = Annotated[float, between(0.0, 10000.0)]


class FanDefaults(Table):
    """What nobody measures of a fan and its motor."""

    hub_over_duct: Share
    zero_flow_pressure_coefficient: Factor
    pressure_coefficient_slope: Annotated[float, between(-10.0, 0.0)]
    efficiency: Factor
    duct_loss_coefficient: Factor
    ram_recovery: Factor
    nozzle_over_ring: Factor
    power_coefficient: Factor
    full_speed_share: Factor
    inertia_kgm2_at_100_mm: Factor
    mass_g_at_100_mm: Plenty
    inlet_over_duct: Factor
    full_sweep_s: Factor


class PropellerDefaults(Table):
    """What nobody measures of a propeller and its motor."""

    radii_pct: Filled[Factor]
    chord_pct_of_diameter: Filled[Factor]
    power_coefficient_at_half_pitch: Factor
    full_speed_share: Factor
    inertia_kgm2_at_300_mm: Factor
    mass_g_at_300_mm: Plenty
    full_sweep_s: Factor


class MotorDefaults(Table):
    """What nobody measures of a motor, a controller and a pack."""

    volts_lost_share: Factor
    no_load_share: Factor
    controller_mohm_a: Plenty
    limit_over_full: Factor
    pack_g_per_cell_ah: Factor
    pack_leads_g: Factor
    pack_kg_l: Factor
    pack_length_over_width: Factor
    pack_height_over_width: Factor


class Drives(Table):
    """drives.toml."""

    fan: FanDefaults
    propeller: PropellerDefaults
    motor: MotorDefaults
