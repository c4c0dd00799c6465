"""Fins and small tails: plate_model.toml."""

from typing import Annotated, ClassVar

from sim.describe.quantity import between
from sim.tables.typed import Angle, Curve, Factor, Share, ShareEnds, Table


class PlateModel(Table):
    """plate_model.toml."""

    CURVES: ClassVar = (("separated_aspect_ratios", "separated_fullness"),)

    square_cd90: Factor
    separated_aspect_ratios: Curve
    separated_fullness: Curve
    stall_width_least_deg: Angle
    fit_below_peak_share: Share
    peak_share_ends: ShareEnds
    attached_fade_from_deg: Angle
    attached_fade_to_deg: Angle
    suction_half_deg: Angle
    suction_power: Annotated[int, between(2, 20)]
    friction_one_side: Share
    side_edge_centre: Share
