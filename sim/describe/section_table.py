"""A section's own coefficients: a polar that somebody measured, beside an aeroplane's file.

A CSV file with the header of `sim.describe.reading.headed`, and in any order the columns

- ``alpha_deg``: from low to high;
- ``CL`` and ``CD``, or ``CN`` and ``CC`` (along the chord, forward positive);
- ``CM`` if there is one, about a quarter of the chord, nose up positive;
- ``Re`` if it was measured at more than one Reynolds number: all angles of one, then the next.

Angles from 0 on alone are those of a section without camber: its lower half is the mirror.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import cos, isfinite, radians, sin
from pathlib import Path
from typing import Annotated

from pydantic import BeforeValidator, ValidationInfo

from sim.describe.faults import nearest, refuse
from sim.describe.quantity import Described, Wanted
from sim.describe.reading.finding import data_folder
from sim.describe.reading.headed import TableFault, cells_of, read_header

LEAST_ANGLES = 6
NEEDED_UP_TO_DEG = 8.0  # some stall of small models lies near there (common practice, no source)
PAIRS = (("CL", "CD"), ("CN", "CC"))
COLUMNS = ("alpha_deg", "CL", "CD", "CN", "CC", "CM", "Re")


class Polar(Described):
    """Coefficients at one Reynolds number, None if the table gives none; (n,) each.

    ``alpha_deg`` rises; ``cn`` and ``cc`` lie across and along the chord, ``cm`` is about
    its quarter.
    """

    reynolds: float | None
    alpha_deg: tuple[float, ...]
    cn: tuple[float, ...]
    cc: tuple[float, ...]
    cm: tuple[float, ...] | None

    def lift(self, row: int) -> float:
        """Return CL in a row, rounded to what any table prints."""
        alpha = radians(self.alpha_deg[row])
        return round(self.cn[row] * cos(alpha) + self.cc[row] * sin(alpha), 6)


class SectionTable(Described):
    """A section table as it was read: the file's name, and a polar a Reynolds number, rising."""

    file: str
    polars: tuple[Polar, ...]

    @property
    def one_sided(self) -> bool:
        """Whether it holds angles from 0 on alone."""
        return all(polar.alpha_deg[0] >= 0.0 for polar in self.polars)


def section_path(name: str, beside: Path | None) -> Path:
    """Return where a section table lies: beside the aeroplane's file, else in aero_tables.

    Raises
    ------
    TableFault
        In neither; the message says which are there.
    """
    folders = [Path() if beside is None else beside, data_folder("aero_tables")]
    for folder in folders:
        if (folder / name).is_file():
            return folder / name
    beside_it, shipped = ([path.name for path in sorted(f.glob("*.csv"))] for f in folders)
    close = nearest(name, [*beside_it, *shipped])
    raise TableFault(
        "is neither beside the aeroplane's file nor in aero_tables; "
        + (f"did you mean {close!r}? " if close else "")
        + f"CSV files beside it: {', '.join(beside_it) or 'none'}"
    )


def read_section_table(name: str, beside: Path | None = None) -> SectionTable:
    """Read a section table.

    Parameters
    ----------
    name : str
        Its file, see `section_path`.
    beside : Path, optional
        Folder of the aeroplane's file.

    Raises
    ------
    TableFault
        With everything that is wrong with its columns; text without the file's name.
    """
    path = section_path(name, beside)
    try:
        cells = cells_of(path, read_header(path))
    except TableFault as fault:
        raise TableFault(str(fault).removeprefix(f"{path.name}: ")) from None
    faults = list(_wrong_columns(cells)) or list(_wrong_cells(cells))
    if faults:
        raise TableFault("; ".join(faults))
    columns = {key: [float(cell) for cell in column] for key, column in cells.items()}
    reynolds = columns.get("Re")
    groups = dict.fromkeys(reynolds) if reynolds else {None: None}
    polars = []
    for wanted in groups:
        rows = [i for i, alpha in enumerate(columns["alpha_deg"])
                if reynolds is None or reynolds[i] == wanted]  # fmt: skip
        polars.append(_polar(wanted, {key: [c[i] for i in rows] for key, c in columns.items()}))
    faults = [fault for polar in polars for fault in _wrong_angles(polar)]
    if faults:
        raise TableFault("; ".join(faults))
    return SectionTable(file=name, polars=tuple(sorted(polars, key=lambda p: p.reynolds or 0.0)))


def _wrong_columns(cells: dict[str, list[str]]) -> Iterator[str]:
    strange = [column for column in cells if column not in COLUMNS]
    spare = [column for column in COLUMNS if column not in cells]
    if strange:
        near = nearest(strange[0], spare)
        mend = f"did you mean {near!r}? " if near else ""
        yield (
            f"has columns that no section table has, {', '.join(strange)}; {mend}"
            f"columns: {', '.join(COLUMNS)}"
        )
        return
    if "alpha_deg" not in cells:
        yield "column 'alpha_deg' is missing"
    given = [pair for pair in PAIRS if set(pair) & cells.keys()]
    if len(given) != 1 or not set(given[0]) <= cells.keys():
        got = ", ".join(cells)
        yield f"needs the columns CL and CD, or CN and CC, and not of both; got {got}"


def _wrong_cells(cells: dict[str, list[str]]) -> Iterator[str]:
    for column, values in cells.items():
        for row, cell in enumerate(values, start=1):
            try:
                good = isfinite(float(cell))
            except ValueError:
                good = False
            if not good:
                yield f"row {row}: {column} must be a number; got {cell!r}"
            elif column == "Re" and float(cell) <= 0.0:
                yield f"row {row}: Re must be above 0; got {cell}"


def _polar(reynolds: float | None, columns: dict[str, list[float]]) -> Polar:
    alpha = columns["alpha_deg"]
    if "CL" in columns:
        turns = [(cos(radians(a)), sin(radians(a))) for a in alpha]
        both = list(zip(columns["CL"], columns["CD"], turns, strict=True))
        cn = [lift * c + drag * s for lift, drag, (c, s) in both]
        cc = [lift * s - drag * c for lift, drag, (c, s) in both]
    else:
        cn, cc = columns["CN"], columns["CC"]
    moment = tuple(columns["CM"]) if "CM" in columns else None
    return Polar(reynolds=reynolds, alpha_deg=tuple(alpha), cn=tuple(cn), cc=tuple(cc), cm=moment)


def _wrong_angles(polar: Polar) -> Iterator[str]:
    at = "" if polar.reynolds is None else f" at Re {polar.reynolds:g}"
    alpha = polar.alpha_deg
    for before, after in pairwise(alpha):
        if after <= before:
            yield f"alpha_deg must rise from row to row{at}; {after:g} comes after {before:g}"
    if len(alpha) < LEAST_ANGLES:
        yield f"needs at least {LEAST_ANGLES} angles{at}; got {len(alpha)}"
        return
    low, high = alpha[0], alpha[-1]
    if low > 0.0 or high < NEEDED_UP_TO_DEG or low < -180.0 or high > 180.0:
        yield (
            f"alpha_deg must begin at 0 or below and reach {NEEDED_UP_TO_DEG:g} at least, within "
            f"-180 to 180{at}; got {low:g} to {high:g}"
        )
        return
    lift = [polar.lift(row) for row in range(len(alpha))]
    if lift[0] > 0.0 or max(lift) <= 0.0:
        yield (
            f"lift must be 0 or less at the first angle and above it later{at}; got "
            f"{lift[0]:g} at {low:g} and {max(lift):g} at most"
        )
    elif lift[-1] == max(lift):
        yield (
            f"must reach past the stall{at}: lift is greatest, {lift[-1]:g}, at the last angle, "
            f"{high:g}"
        )


def _from_name(value: object, info: ValidationInfo) -> SectionTable | None:
    """Return the table that an aeroplane's file names, read."""
    if value is None or isinstance(value, SectionTable):
        return value
    if not isinstance(value, str) or not value.strip():
        refuse([("", f"must be the name of a CSV file, in quotes; got {value!r}")])
    try:
        return read_section_table(str(value), (info.context or {}).get("folder"))
    except TableFault as fault:
        refuse([("", f"{value!r}: {fault}")])
    return None


NamedTable = Annotated[
    SectionTable | None,
    BeforeValidator(_from_name),
    Wanted("the name of a CSV file, in quotes"),
]
