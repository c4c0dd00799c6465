"""Fins and small tails: plate_model.toml."""

from typing import ClassVar

from sim.tables.typed import Angle, Curve, Factor, Share, Table


class PlateModel(Table):
    """plate_model.toml."""

    CURVES: ClassVar = (("separated_aspect_ratios", "separated_fullness"),)

    square_cd90: Factor
    separated_aspect_ratios: Curve
    separated_fullness: Curve
    stall_width_least_deg: Angle
    fit_below_peak_share: Share
    attached_fade_from_deg: Angle
    attached_fade_to_deg: Angle
    suction_half_deg: Angle
    friction_one_side: Share
    side_edge_centre: Share
