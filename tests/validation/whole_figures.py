"""Figures of complete aeroplanes: measured, ours, and the band of our draws."""

from collections.abc import Iterator
from math import ceil
from pathlib import Path

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from sim.show.drawing.canvas import BLUE, FAINT, INK, MARK, new_figure, save, styled
from tests.validation.whole_quantities import Quantity

COLUMNS = 3
MOST_PANELS = 12
MOST_CURVES = 4  # in one panel; where there are more, first and last are kept
COLOURS = (INK, MARK, "#0072B2", "#E69F00")


def draw(name: str, title: str, quantities: list[Quantity], folder: Path) -> Iterator[Path]:
    """Write the pages of one aeroplane; yield their paths."""
    for page in range(ceil(len(quantities) / MOST_PANELS)):
        some = quantities[page * MOST_PANELS : (page + 1) * MOST_PANELS]
        yield save(_page(title, some), folder / f"{name}_{page + 1}.png", dpi=110.0)


@styled
def _page(title: str, quantities: list[Quantity]) -> Figure:
    rows = ceil(len(quantities) / COLUMNS)
    figure = new_figure(14.0, 0.8 + 3.2 * rows)
    axes = figure.subplots(rows, COLUMNS, squeeze=False).ravel()
    for one, quantity in zip(axes, quantities, strict=False):
        _panel(one, quantity)
    for one in axes[len(quantities) :]:
        one.set_axis_off()
    figure.suptitle(
        f"{title}: points measured, lines ours, shaded 95 % of our draws", x=0.01, ha="left",
        weight="bold",
    )  # fmt: skip
    return figure


def _panel(axes: Axes, quantity: Quantity) -> None:
    inside = int(quantity.inside.sum())
    axes.set_title(f"{quantity.name} ({inside} of {quantity.alphas.size} inside)", fontsize=9)
    axes.axhline(0.0, color=FAINT, lw=0.8)
    axes.set_xlabel("angle of attack, degrees")
    axes.grid(True)
    count = len(quantity.labels)
    shown = np.unique(np.linspace(0, count - 1, min(count, MOST_CURVES)).round().astype(int))
    low, high = quantity.low, quantity.high
    for colour, curve in zip(COLOURS, shown, strict=False):
        here = np.flatnonzero(quantity.curves == curve)
        order = here[np.argsort(quantity.alphas[here])]
        alpha = quantity.alphas[order]
        fill = BLUE if colour == INK else colour
        axes.fill_between(alpha, low[order], high[order], color=fill, alpha=0.22, lw=0.0)
        axes.plot(alpha, quantity.ours[order], color=colour, lw=1.3)
        if alpha.size == 1:  # no line and no area: a bar, and a dash on it
            axes.vlines(alpha, low[order], high[order], color=fill, alpha=0.4, lw=6.0)
            axes.plot(alpha, quantity.ours[order], "_", ms=12.0, color=colour)
        axes.plot(
            alpha, quantity.measured[order], "o", ms=3.5, color=colour,
            label=quantity.labels[curve] or None,
        )  # fmt: skip
    if any(quantity.labels):
        axes.legend(fontsize=7, frameon=True)  # or its dots are taken for measured ones
