"""Columns of the CSV tables that the program reads, as their files name them."""

from typing import NamedTuple

from sim.tables.typed import Numbers, Words


class BodySideForce(NamedTuple):
    """body_side_force.csv."""

    corner_pct: Numbers
    slope_per_sine: Numbers
    peak_at_deg: Numbers
    gone_at_deg: Numbers
    tail: Numbers


class EiffelPlatesInclined(NamedTuple):
    """eiffel_plates_inclined.csv."""

    aspect_ratio: Numbers
    first_max_CN_over_CN90: Numbers
    at_alpha_deg: Numbers
    CN_over_CN90_at_6deg: Numbers
    at_12deg: Numbers
    at_20deg: Numbers


class EiffelPlatesNormal(NamedTuple):
    """eiffel_plates_normal.csv."""

    series: Words
    size_cm: Words
    aspect_ratio: Numbers
    K_kgf_s2_m4: Numbers
    K_over_K_square: Numbers
    CD_computed: Numbers


class Naca0015(NamedTuple):
    """naca0015_sand80-2114.csv."""

    Re: Numbers
    alpha_deg: Numbers
    CL: Numbers
    CD: Numbers


class PotentialCentre(NamedTuple):
    """potential_centre.csv."""

    aspect_ratio: Numbers
    rectangle: Numbers
    delta: Numbers


class SectionShape(NamedTuple):
    """section_shape.csv."""

    edge: Words
    thickness_pct: Numbers
    stall_share: Numbers
    suction_share: Numbers


class SpinReference(NamedTuple):
    """spin_reference.csv."""

    name: Words
    alpha_low_deg: Numbers
    alpha_high_deg: Numbers
    rate_low_dps: Numbers
    rate_high_dps: Numbers
    sink_low_mps: Numbers
    sink_high_mps: Numbers
    turn_low: Numbers
    turn_high: Numbers
    span_m: Numbers
    relative_density: Numbers
    mass_loading_1e4: Numbers


class VortexBurst(NamedTuple):
    """vortex_burst.csv."""

    sweep_deg: Numbers
    burst_alpha_deg: Numbers
