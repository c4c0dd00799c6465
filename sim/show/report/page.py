"""From templates to pages that need nothing from outside themselves."""

from collections.abc import Sequence
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup
from matplotlib.figure import Figure

from sim.show.drawing.canvas import page_svg
from sim.show.report.parts import Section

TEMPLATES = Path(__file__).parent / "templates"
# numbers as they are written, not spread out; what is none is refused
JSON = {"ensure_ascii": False, "separators": (",", ":"), "allow_nan": False}


@cache
def environment(*folders: Path) -> Environment:
    """Return what fills the templates of some folders, and those that all pages share.

    All text is escaped, and a name that a template asks for in vain is an error. Kept, as a
    template is read and compiled once by each.
    """
    made = Environment(
        loader=FileSystemLoader([*folders, TEMPLATES]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.globals["svg"] = _svg
    made.policies["json.dumps_kwargs"] = JSON
    return made


def page_html(title: str, heading: str, intro: str, sections: Sequence[Section]) -> str:
    """Return a page of sections below a heading and a few words."""
    page = environment().get_template("report.html")
    return page.render(title=title, heading=heading, intro=intro, sections=sections)


def _svg(figure: Figure, name: str) -> Markup:
    """Return a figure as markup; ``name`` is its own on the page."""
    return Markup(page_svg(figure, name))
