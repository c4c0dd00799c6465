"""Sections built from the measured NACA 0015: section_model.toml."""

from typing import Annotated, Literal

from sim.describe.quantity import between
from sim.tables.typed import Angle, Curve, Factor, Percent, Reynolds, Share, Signed, Table


class ByEdge(Table):
    """One number for a round leading edge, one for a sharp one."""

    round: Factor
    sharp: Factor

    def of(self, edge: Literal["round", "sharp"]) -> float:
        """Return the number of an edge."""
        return self.round if edge == "round" else self.sharp


class SectionModel(Table):
    """section_model.toml."""

    later_stall_deg: Angle
    reynolds_lowest: Reynolds
    reynolds_highest: Reynolds
    separated_slope_per_rad: ByEdge
    separated_axial_at_zero: Signed
    measured_from_deg: Angle
    separated_axial_at_deg: Curve
    seam_from_deg: Angle
    seam_to_deg: Angle
    attached_fade_from_deg: Angle
    attached_fade_to_deg: Angle
    attached_to_share: Share
    least_stall_deg: Annotated[float, between(0.1, 10.0, "degrees")]
    drag_kept_to_rad: Annotated[float, between(0.1, 1.5, "rad")]
    moment_break_from: Share
    moment_break_to: Share
    separated_fullness: Factor
    viterna_match_deg: Angle
    reversed_fade_from_deg: Angle
    reversed_fade_to_deg: Angle
    reversed_centre: Share
    camber_crest: Share
    camber_stall_share: Factor
    camber_stall_share_inverted: Factor
    camber_side_deg: Angle
    base_thickness_pct: Percent
    form_factor_linear: Factor
    form_factor_quartic: Factor
