"""The fuselage: body_model.toml."""

from typing import ClassVar

from sim.tables.typed import Angle, Curve, Ends, Factor, Percent, Share, Table


class BodyModel(Table):
    """body_model.toml."""

    CURVES: ClassVar = (
        ("fineness", "apparent_mass"),
        ("corner_pct", "cross_flow_drag"),
        ("depth_ratio", "depth_drag"),
        ("length_ratio", "length_share"),
        ("nose_fineness", "nose_asymmetry"),
    )

    fineness: Curve
    apparent_mass: Curve
    boat_tail_share: Share
    corner_pct: Curve
    cross_flow_drag: Curve
    depth_ratio: Curve
    depth_drag: Curve
    length_ratio: Curve
    length_share: Curve
    critical_reynolds: Ends
    cross_flow_at_deg: Angle
    critical_corner_pct: Percent
    drag_past_critical: Factor
    friction_coefficient: Share
    base_drag_coefficient: Share
    wetted_share: Share
    small_parts_share: Share
    nose_share: Share
    nose_fineness: Curve
    nose_asymmetry: Curve
    fin_foot_half_heights: Ends
    fin_body_at_share: Share
    crossed_centre: Share
