"""The points that were clicked on a picture, as the page saves them."""

import json
from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from sim.describe.faults import Fault, FileFault
from sim.describe.reading.bounds import TooMuch, out_of_bounds, read_text

SCHEMA = "aftlimit.points/1"
View = Literal["top", "side"]
CORNERS = 4
Pixel = Annotated[float, Field(ge=-1e5, le=1e5, strict=True)]
Point = tuple[Pixel, Pixel]
Line = Annotated[tuple[Point, ...], Field(max_length=200)]
Length = Annotated[float, Field(gt=0.0, le=20000.0, strict=True)]


class Points(BaseModel):
    """What the page saves: pixels from the top left corner of the picture, lengths in mm.

    ``surfaces`` has four corners a surface: root and tip leading edge, tip and root trailing
    edge. ``edge`` runs along one side of the body, ``upper`` and ``lower`` along its outline
    from the side, all from nose to tail.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)

    format: Literal["aftlimit.points/1"] = Field(alias="schema")
    view: View
    picture: Annotated[str, Field(max_length=400)]
    known_mm: Length
    check_mm: Length | None = None
    known: Line
    check: Line = ()
    nose: Line
    end: Line
    datum: Line = ()
    level: Line = ()
    wing_root: Line = ()
    tail_root: Line = ()
    edge: Line = ()
    upper: Line = ()
    lower: Line = ()
    surfaces: dict[str, Line] = Field(default_factory=dict)


COUNTS = {"known": (2,), "check": (0, 2), "nose": (1,), "end": (1,), "datum": (0, 1),
          "level": (0, 2), "wing_root": (0, 1), "tail_root": (0, 1)}  # fmt: skip


def read_points(path: Path, view: str, picture: str) -> Points:
    """Return the points of a file, as saved for a view of a picture.

    Raises
    ------
    FileFault
        With everything wrong with it: not such a file, of another view or picture.
    """
    try:
        raw = json.loads(read_text(path))
    except (ValueError, RecursionError, TooMuch) as error:
        said = str(error) if isinstance(error, TooMuch) else "is no JSON, as the page saves it"
        raise FileFault(path.name, [Fault("", said)]) from None
    if not isinstance(raw, dict) or raw.get("schema") != SCHEMA:
        text = f'must be a file of points that the page saved, with "schema": "{SCHEMA}"'
        raise FileFault(path.name, [Fault("", text)])
    if faults := list(out_of_bounds(raw)):
        raise FileFault(path.name, faults)
    try:
        points = Points.model_validate(raw)
    except ValidationError as error:
        told = [
            Fault(".".join(str(x) for x in fault["loc"]), fault["msg"]) for fault in error.errors()
        ]
        raise FileFault(path.name, told) from None
    faults = _counts(points)
    if points.view != view:
        text = f"is {points.view!r}; this asks for --view {view}: the views are swapped"
        faults.append(Fault("view", text))
    elif points.picture != picture:
        text = f"must be {picture!r}, the picture named; these points are of {points.picture!r}"
        faults.append(Fault("picture", text))
    if faults:
        raise FileFault(path.name, faults)
    return points


def _counts(points: Points) -> list[Fault]:
    faults = []
    for key, allowed in COUNTS.items():
        got = len(getattr(points, key))
        if got not in allowed:
            faults.append(Fault(key, f"must be {allowed[-1]} points; got {got}"))
    for name, corners in points.surfaces.items():
        if len(corners) != CORNERS:
            faults.append(Fault(f"surfaces.{name}", f"must be 4 corners; got {len(corners)}"))
    if (points.check_mm is None) != (not points.check):
        faults.append(Fault("check_mm", "goes with the two points of check: give both or none"))
    return faults
