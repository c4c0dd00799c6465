"""What an inlet loses at an angle: inlet.toml."""

from sim.tables.typed import Factor, Table


class Inlet(Table):
    """inlet.toml."""

    lip_loss: Factor
