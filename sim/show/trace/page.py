"""The tracing page: picture, prompts, script and style in one file that needs no network."""

from base64 import b64encode
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

from sim.describe import Surface
from sim.describe.faults import Fault, FileFault
from sim.show.report.page import environment
from sim.show.trace.steps import steps_of
from sim.trace.points import SCHEMA, View
from sim.units.factors import UNITS

FOLDER = Path(__file__).parent / "viewer"
SCRIPTS = ("picture.js", "clicking.js", "trace.js")  # one scope, in this order
MOST_BYTES = 40 << 20
KINDS = {b"\x89PNG\r\n\x1a\n": "image/png", b"\xff\xd8\xff": "image/jpeg"}


def picture_uri(path: Path) -> str:
    """Return a photo or drawing as text for a page.

    Raises
    ------
    FileFault
        It is no PNG, JPEG or WebP, or too large.
    OSError
        It cannot be read.
    """
    with path.open("rb") as file:
        data = file.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        text = f"is larger than {MOST_BYTES >> 20} MiB; save it smaller"
        raise FileFault(path.name, [Fault("", text)])
    kind = next((kind for start, kind in KINDS.items() if data.startswith(start)), None)
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        kind = "image/webp"
    if kind is None:
        text = "must be a PNG, JPEG or WebP picture; save a scan, a PDF's page or a drawing as one"
        raise FileFault(path.name, [Fault("", text)])
    return f"data:{kind};base64,{b64encode(data).decode('ascii')}"


def trace_page(picture: Path, view: View, saved: str, command: str,
               surfaces: Sequence[Surface] = ()) -> str:  # fmt: skip
    """Return the page.

    Parameters
    ----------
    saved : str
        What the points are saved as.
    command : str
        What to run then.
    surfaces : sequence of Surface
        Of the aeroplane file, if there is one: they are asked for by name.
    """
    data = {
        "schema": SCHEMA, "view": view, "picture": picture.name, "saved": saved,
        "steps": [asdict(step) for step in steps_of(view, surfaces)],
        "units": {k: 1e3 * u.si for k, u in UNITS.items() if u.kind == "length"},
    }  # fmt: skip
    return environment(FOLDER).get_template("trace.html").render(
        title=f"Trace {picture.name}, {view} view", view=view, picture=picture_uri(picture),
        name=picture.name, data=data, scripts=SCRIPTS, command=command, saved=saved,
    )  # fmt: skip
