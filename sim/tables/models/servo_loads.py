"""How what servos and wing carry is read off flights: servo_loads.toml."""

from sim.tables.typed import Count, Seconds, Share, Table


class ServoLoads(Table):
    """servo_loads.toml."""

    by_load: Count
    by_speed: Count
    by_angle: Count
    every_s: Seconds
    near_share: Share
