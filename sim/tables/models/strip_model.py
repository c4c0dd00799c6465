"""The strip build-up, its lags and induced flow: strip_model.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Angle, Ends, Factor, PerSecond, Share, Table


class StripModel(Table):
    """strip_model.toml."""

    separation_relax_chords: Factor
    separation_delay_chords: Factor
    vortex_relax_chords: Factor
    vortex_delay_chords: Factor
    most_delay_deg: Angle
    stall_region_deg: Ends
    stall_shift_per_sideslip: Share
    stall_shift_sweep_deg: Ends
    induced_lag_spans: Factor
    induced_shape_ends: Ends
    mean_chord_at_share: Share
    ahead_reach_share: Annotated[float, between(0.1, 1.0)]
    ahead_least_chord_share: Annotated[float, between(1e-4, 0.1)]
    least_lean_deg: Annotated[float, between(0.01, 30.0, "degrees")]
    stalled_downwash_share: Share
    strake_downwash_at_deg: Angle
    strake_vortex_at_share: Share
    induced_rate_limit_per_s: PerSecond
    single_fin_aspect_factor: Factor
    twin_fin_aspect_factor: Factor
    section_aspect_ratios: Ends
    reference_speed_factor: Factor
