"""How studies search, compare and report: study.toml."""

from typing import Annotated

from pydantic import Field

from sim.describe.quantity import Filled, Text, between
from sim.tables.typed import Count, Millimetres, Share, Table

Told = Annotated[float, between(0.0, 100.0)]  # the least step that is told


class Study(Table):
    """study.toml."""

    search_step_mm: Millimetres
    search_tolerance_mm: Millimetres
    search_wide_pct_mac: Annotated[float, Field(ge=0.0, le=100.0)]
    unseen_draws: Annotated[int, Field(ge=0, le=256)]
    screening_draws: Count
    looks_first_draws: Count
    looks_error_share: Annotated[float, between(1e-4, 0.2)]
    fit_share: Share
    fit_least_width_mm: Millimetres
    fit_most_width_mm: Millimetres
    fit_reach_mm: Millimetres
    cruise_over_stall: Annotated[float, between(1.0, 5.0)]
    mixed_share: Share
    links_called: Annotated[tuple[Share, Share, Share], Field(strict=False)]
    step_check_flights: Count
    step_check_share: Share
    ways_out: Filled[Text]
    ways_out_draws: Count
    told_mass_g: Told
    told_margin_pct: Told
    told_stall_mps: Told
    told_throttle: Told
    told_current_a: Told
    told_thrust_to_weight: Told
    told_top_mps: Told
    told_minutes: Told
    told_pitch_up_pct: Told
    told_shown_pct: Told
    told_limit_mm: Told
    told_errors: Told
    told_lost_draws: Count
    told_same_way: Share
