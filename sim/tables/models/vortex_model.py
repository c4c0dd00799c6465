"""Leading-edge vortices: vortex_model.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Angle, Ends, Factor, Pair, Share, Table


class VortexModel(Table):
    """vortex_model.toml."""

    burst_lead_deg: Angle
    burst_width_deg: Angle
    friction_one_side: Share
    attached_fade_from_deg: Angle
    attached_fade_to_deg: Angle
    vortex_centre: Share
    help_deg: Angle
    help_reach_spans: Factor
    burst_recalled_from_deg: Angle
    swept_from_to_deg: Ends
    swept_fullness: Pair
    separated_most_share: Share
    separated_bound_fades_deg: Ends
    separated_bound_power: Annotated[int, between(2, 50)]
