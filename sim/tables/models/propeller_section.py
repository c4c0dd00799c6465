"""The section of a model propeller's blade: propeller_section.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Angle, Ends, Factor, Percent, SignedAngle, Table


class PropellerSection(Table):
    """propeller_section.toml."""

    thickness_pct: Percent
    zero_lift_deg_per_pct: Factor
    chord_line_deg_per_pct: Factor
    lift_slope_per_rad: Factor
    stall_deg: SignedAngle
    stall_negative_deg: SignedAngle
    stall_width_deg: Angle
    drag_least: Factor
    drag_least_lift: float
    drag_rise: Factor
    aspect_ratio: Factor
    rotation_gain: Factor
    rotation_fades_deg: Ends
    azimuth_step_share: Annotated[float, between(1e-4, 0.3)]
