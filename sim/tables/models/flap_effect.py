"""What is left of a plain flap's effect: flap_effect.toml."""

from typing import ClassVar

from sim.tables.typed import Angle, Curve, Factor, Share, Table


class FlapEffect(Table):
    """flap_effect.toml."""

    CURVES: ClassVar = (
        ("deflection_deg", "share", "moment_share"),
        ("separated_chord", "separated_straight", "separated_centre"),
    )

    deflection_deg: Curve
    share: Curve
    moment_share: Curve
    stall_share: Share
    separated_share: Share
    separated_chord: Curve
    separated_straight: Curve
    separated_centre: Curve
    separated_load_at_deg: Angle
    nose_stall_share: Share
    nose_fade_from_deg: Angle
    nose_fade_to_deg: Angle
    drag_factor: Factor
    drag_chord_power: Factor
