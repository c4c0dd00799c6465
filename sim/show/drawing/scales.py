"""Axes whose numbers are in the units of the run, while what is drawn on them is not."""

from collections.abc import Sequence

import numpy as np
from matplotlib.axis import Axis
from matplotlib.ticker import FuncFormatter, MaxNLocator

from sim.units.quantities import Quantity


class _RoundInUnits(MaxNLocator):
    """Ticks at round numbers of the run's unit."""

    def __init__(self, quantity: Quantity) -> None:
        """Take at most ten steps of 1, 2, 2.5 or 5."""
        super().__init__(nbins=9, steps=[1, 2, 2.5, 5, 10])
        self.each = quantity.value(1.0) - quantity.value(0.0)
        self.zero = quantity.value(0.0)

    def tick_values(self, vmin: float, vmax: float) -> Sequence[float]:
        """Return the ticks between two ends, in what is drawn."""
        ends = (end * self.each + self.zero for end in (vmin, vmax))
        ticks = np.asarray(super().tick_values(*ends), dtype=float)
        return [float(tick) for tick in (ticks - self.zero) / self.each]


def in_units(axis: Axis, quantity: Quantity, most: int = 9) -> None:
    """Number an axis, drawn in a quantity's default unit, in that of the run.

    Call it after what sets ticks or a scale of its own.

    Parameters
    ----------
    axis : Axis
        Such as ``axes.xaxis``.
    quantity : Quantity
        Of what is drawn along it.
    most : int
        Ticks it may have.
    """
    if quantity.is_default:
        return
    locator = _RoundInUnits(quantity)
    locator.set_params(nbins=most)
    axis.set_major_locator(locator)
    axis.set_major_formatter(FuncFormatter(lambda at, _: f"{quantity.value(at) + 0.0:.6g}"))
