"""What the power report looks at: performance.toml."""

from sim.tables.typed import Curve, Factor, Share, ShareEnds, Table


class PerformanceTable(Table):
    """performance.toml."""

    throttles: Curve
    ordinary_speeds: ShareEnds
    nozzle_from: Share
    nozzle_step: Share
    nozzle_usual: ShareEnds
    nozzle_as_good: Share
    diffusion_limit: Factor
    solidity_least: Factor
    solidity_most: Factor
