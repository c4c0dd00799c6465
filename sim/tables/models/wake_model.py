"""Separated wakes that shield fins and rudders: wake_model.toml."""

from sim.tables.typed import Angle, Share, Table


class WakeModel(Table):
    """wake_model.toml."""

    depth_surface: Share
    depth_body: Share
    edge_angle_deg: Angle
    edge_softness: Share
    body_from_deg: Angle
    body_whole_deg: Angle
    body_rear_from_share: Share
