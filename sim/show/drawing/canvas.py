"""What every figure shares: colours, a figure without a window, saving, SVG for a page."""

import io
import os
import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import wraps
from pathlib import Path
from typing import Any, ParamSpec, TypeVar

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure
from matplotlib.layout_engine import ConstrainedLayoutEngine

# Far apart also under simulated colour blindness; verdicts carry a symbol and a word as well.
BLUE = "#56B4E9"
ORANGE = "#E69F00"
WINE = "#882255"
GREY = "#E6E6E6"
# Stand-ins: SVG in a page takes the page's own ink and line colours for them, light or dark.
INK = "#1A1B1C"
FAINT = "#8A8B8C"
MARK = "#882256"
SHEET = "#FDFEFD"
PAGE_COLOURS = {
    INK.lower(): "currentColor",
    FAINT.lower(): "var(--faint)",
    SHEET.lower(): "var(--sheet)",
    MARK.lower(): "var(--mark)",
}
STYLE: Any = {
    "text.color": INK,
    "axes.edgecolor": FAINT,
    "axes.labelcolor": INK,
    "axes.titlecolor": INK,
    "xtick.color": FAINT,
    "ytick.color": FAINT,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "grid.color": FAINT,
    "grid.alpha": 0.3,
    "grid.linewidth": 0.6,
    "axes.grid": False,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.titlesize": 11.0,
    "axes.titlelocation": "left",
    "axes.titleweight": "bold",
    "font.size": 9.0,
    "legend.frameon": False,
    "legend.labelcolor": INK,
    "svg.fonttype": "none",
    "svg.hashsalt": "aftlimit",  # inner names follow from what is drawn
    "text.parse_math": False,  # a $ in a title is a $
    "figure.facecolor": SHEET,
    "axes.facecolor": "none",
    "savefig.facecolor": "auto",
}
Given = ParamSpec("Given")
Drawn = TypeVar("Drawn")
NO_METADATA = {"Date": None, "Creator": None, "Format": None, "Type": None}
# the same picture is the same file, whenever it is made
METADATA: dict[str, dict[str, Any]] = {"svg": NO_METADATA, "pdf": {"CreationDate": None}}


def new_figure(width_in: float, height_in: float, arranged: bool = True) -> Figure:
    """Return an empty figure with a canvas of its own, that lays itself out if ``arranged``."""
    with mpl.rc_context(STYLE):
        layout = ConstrainedLayoutEngine(w_pad=0.1, h_pad=0.08) if arranged else None
        figure = Figure(figsize=(width_in, height_in), layout=layout, facecolor=SHEET)
        FigureCanvasAgg(figure)
    return figure


def rows_of_axes(figure: Figure, heights: Sequence[float]) -> list[Axes]:
    """Return axes below each other in the house style, their heights in proportion."""
    with mpl.rc_context(STYLE):
        return list(
            figure.subplots(len(heights), 1, height_ratios=list(heights), squeeze=False)[:, 0]
        )


def grid_of_axes(figure: Figure, rows: int, columns: int) -> list[list[Axes]]:
    """Return axes in rows and columns in the house style."""
    with mpl.rc_context(STYLE):
        return [list(row) for row in figure.subplots(rows, columns, squeeze=False)]


def one_axes(width_in: float, height_in: float) -> tuple[Figure, Axes]:
    """Return a figure with one set of axes in the house style."""
    figure = new_figure(width_in, height_in)
    with mpl.rc_context(STYLE):
        axes = figure.add_subplot()
    return figure, axes


def styled(draw: Callable[Given, Drawn]) -> Callable[Given, Drawn]:
    """Return a drawing function that runs under the house style, whatever the user's is."""

    @wraps(draw)
    def drawn(*args: Given.args, **kwargs: Given.kwargs) -> Drawn:
        with mpl.rc_context(STYLE):
            return draw(*args, **kwargs)

    return drawn


def save(figure: Figure, path: Path | str, dpi: float = 150.0) -> Path:
    """Write a figure as PNG, SVG or PDF, by the path's ending; no half-written file is left.

    Raises
    ------
    ValueError
        Another ending.
    """
    path = Path(path)
    kind = path.suffix.lower().lstrip(".")
    if kind not in ("png", "svg", "pdf"):
        raise ValueError(f"{path.name}: a picture ends in .png, .svg or .pdf")
    path.parent.mkdir(parents=True, exist_ok=True)
    waiting = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        with mpl.rc_context(STYLE):
            figure.savefig(waiting, format=kind, dpi=dpi, metadata=METADATA.get(kind))
        os.replace(waiting, path)
    finally:
        waiting.unlink(missing_ok=True)
    return path


def lay_out(figure: Figure) -> None:
    """Put a figure's axes where they come to lie, if it lays itself out, without drawing it."""
    engine = figure.get_layout_engine()
    if engine is not None:
        engine.execute(figure)


@contextmanager
def _laid_out(figure: Figure) -> Iterator[None]:
    """Lay a figure out as for SVG, once, and leave it so within the block.

    matplotlib draws whatever lays itself out twice, the first time for its layout alone.
    """
    engine, canvas, dpi = figure.get_layout_engine(), figure.canvas, figure.dpi
    if engine is None:
        yield
        return
    FigureCanvasSVG(figure)
    figure.dpi = FigureCanvasSVG.fixed_dpi
    lay_out(figure)
    figure.set_canvas(canvas)
    figure.dpi = dpi
    figure.set_layout_engine(None)
    try:
        yield
    finally:
        figure.set_layout_engine(engine)


def page_svg(figure: Figure, name: str) -> str:
    """Return a figure as an <svg> element for a page, without addresses, in the page's colours.

    Parameters
    ----------
    name : str
        Letters and figures; keeps the inner names of several drawings apart.
    """
    stream = io.StringIO()
    with mpl.rc_context({**STYLE, "svg.hashsalt": name}), _laid_out(figure):
        figure.savefig(stream, format="svg", metadata=NO_METADATA, transparent=True)
    text = stream.getvalue()
    text = text[text.index("<svg") :]
    text = re.sub(r'\s+xmlns(:xlink)?="[^"]*"', "", text)
    text = re.sub(r"\s*<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    text = re.sub(r'(<svg[^>]*?) width="[^"]*"', r"\1", text, count=1)
    text = re.sub(r'(<svg[^>]*?) height="[^"]*"', r"\1", text, count=1)
    # matplotlib numbers its groups alike in every drawing
    text = re.sub(r'id="([^"]+)"', rf'id="{name}-\1"', text)
    text = re.sub(r"url\(#([^)]+)\)", rf"url(#{name}-\1)", text)
    text = re.sub(r'href="#([^"]+)"', rf'href="#{name}-\1"', text)
    for stand_in, colour in PAGE_COLOURS.items():
        text = re.sub(stand_in, colour, text, flags=re.IGNORECASE)
    return text.replace("<svg ", '<svg aria-hidden="true" ', 1)


def outlined_svg(figure: Figure) -> bytes:
    """Return a figure as an SVG file for paper, its letters as outlines."""
    stream = io.BytesIO()
    paper = {**STYLE, "svg.fonttype": "path", "svg.hashsalt": "paper"}
    with mpl.rc_context(paper), _laid_out(figure):
        figure.savefig(stream, format="svg", metadata=NO_METADATA, transparent=True)
    return stream.getvalue()
