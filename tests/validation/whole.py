"""Complete aeroplanes beyond the stall, held against what was measured of them.

``python -m tests.validation --whole [AEROPLANE.toml DATA.csv] [--out FOLDER] [--json FILE]``
prints every coefficient by band of angle of attack: root mean square of the difference, share
of measured values inside our 95 % band, its median width, wrong signs; then the deep stall.
``--out`` is where figures are drawn. What a data file looks like: `whole_data`.

Without files the development aeroplanes are measured, from ../shared/data; those that are
not there are left out, and this is said.
"""

import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from math import isfinite
from pathlib import Path
from typing import Any

from sim import __version__
from sim.describe import Aeroplane, FileFault, load_aeroplane
from sim.describe.geometry import Droop, Surface
from sim.show.console.console import Tables, add, notes, paragraph, show, table
from tests.validation.printing import put_json
from tests.validation.whole_data import Place, find, read
from tests.validation.whole_deep_stall import Hang, deep_stall
from tests.validation.whole_figures import draw
from tests.validation.whole_quantities import Line, Quantity, direct_values, lines, quantities

HERE = Path(__file__).parent
DATA = HERE.parent.parent.parent / "shared" / "data"
DRAWS = 128
SCHEMA = "aftlimit.whole/1"


@dataclass(frozen=True)
class Case:
    """An aeroplane and what was measured of it.

    ``pitch_added`` is what the report adds to the Cm of its tables, from and to.
    ``tail_forward_mm`` moves the tailplane, where the measurement says that it stands there.
    ``droop``: the leading edge of the wing, measured turned down, where the file has it straight.
    ``more`` is another file of measured values.
    """

    name: str
    title: str
    aeroplane: Path
    data: Path
    pitch_added: tuple[float, float] | None = None
    tail_forward_mm: float = 0.0
    droop: Droop | None = None
    more: Path | None = None

    def load(self) -> Aeroplane:
        """Return the aeroplane as it was measured: its tailplane's place, its leading edge."""
        read_in = load_aeroplane(self.aeroplane)
        return read_in.model_copy(update={"surfaces": tuple(map(self._measured, read_in.surfaces))})

    def measured(self) -> dict[Place, float]:
        """Return everything that was measured of it."""
        return read(self.data) | (read(self.more) if self.more else {})

    def _measured(self, surface: Surface) -> Surface:
        """Return a surface as it stood in the tunnel."""
        if surface.role == "tail":
            aft = surface.root_aft_mm - self.tail_forward_mm
            return surface.model_copy(update={"root_aft_mm": aft})
        if surface.role == "wing" and self.droop is not None:
            return surface.model_copy(update={"droop": self.droop})
        return surface


@dataclass(frozen=True)
class Result:
    """What was found of one case."""

    case: Case
    quantities: list[Quantity]
    direct: list[Quantity]
    hangs: list[Hang]


def development() -> list[Case]:
    """Return the development aeroplanes; their files stay where they are."""
    fighter = DATA / "whole_aeroplane_fighter.toml", DATA / "whole_aeroplane_fighter.csv"
    # NASA TP-1538 adds this to the Cm of its tables; force and moment of its stabilator imply
    # an arm of 13.0 ft where the file has 16.2 ft (the file's own notes)
    added = (0.02, 0.06)
    # its tables are for 25 deg of leading-edge flap: 36.7 ft2 from the strakes to the tips (area
    # from memory), 22 % of the chord there
    droop = Droop(down_deg=25.0, chord_pct=22.0, inner_pct=30.0)
    return [
        Case(
            "fighter", "Strake-winged light fighter, as filed", *fighter, added, droop=droop,
        ),
        Case(
            "fighter_arm", "Strake-winged light fighter, tail at the measured arm", *fighter,
            added, 146.3, droop, HERE / "fighter_damping.csv",
        ),
        Case(
            "light", "Light high-wing aeroplane (computed flow)", HERE / "light_high_wing.toml",
            DATA / "whole_aeroplane_light.csv",
        ),
    ]  # fmt: skip


def compare(case: Case, draws: int = DRAWS) -> Result:
    """Return one case, measured against ours."""
    found = find(case.load(), case.measured(), draws)
    return Result(
        case, quantities(found, case.pitch_added), direct_values(found),
        deep_stall(found, case.pitch_added),
    )  # fmt: skip


def tables(result: Result, draws: int) -> Iterator:
    """Yield what is printed of one case."""
    case = result.case
    yield paragraph("")
    out = table(
        f"{case.title} ({case.aeroplane.name}, {case.data.name})", "quantity", "angles", "points",
        "measured,\nrms", "difference,\nrms", "ours /\nmeasured", "inside\n95 %", "width of\nband",
        "wrong\nsign",
    )  # fmt: skip
    name = ""
    for line in _all_lines(result.quantities):
        add(out, "" if line.name == name else line.name, *_cells(line))
        name = line.name
    yield out
    yield from _every_value(result)
    yield from notes([
        f"Inside: of {draws} draws of what the air does (aero_tables/uncertainty.toml), the middle "
        "95 %. Ours / measured: by least squares. Wrong sign: of values above a tenth of the "
        "largest.",
    ])  # fmt: skip
    yield _hang_table(result.hangs)


def _all_lines(some: list[Quantity]) -> list[Line]:
    return [line for quantity in some for line in lines(quantity)]


def _cells(line: Line) -> tuple[str, ...]:
    low, high = line.band
    angles = f"below {0:g}" if high < 0.0 else f"{max(0.0, low):g}-{min(180.0, high):g}"
    return (
        angles, str(line.count), f"{line.size:.4f}", f"{line.rms:.4f}", f"{line.factor:.2f}",
        f"{100.0 * line.inside / line.count:.0f} %", f"{line.width:.4f}",
        str(line.wrong_sign) if line.wrong_sign else "-",
    )  # fmt: skip


def _every_value(result: Result) -> Iterator:
    """Yield the count of all measured values inside the band, by band of angle."""
    every = _all_lines(result.direct)
    parts = []
    for band in dict.fromkeys(sorted(line.band for line in every)):
        some = [line for line in every if line.band == band]
        inside, count = sum(x.inside for x in some), sum(x.count for x in some)
        parts.append(f"{_cells(some[0])[0]}°: {inside} of {count}")
    inside, count = sum(x.inside for x in every), sum(x.count for x in every)
    share = 100.0 * inside / count
    yield paragraph(
        f"Every measured value, once: {inside} of {count} inside ({share:.0f} %): "
        f"{'; '.join(parts)}."
    )


def _hang_table(hangs: list[Hang]):
    out = table(
        "Deep stall: least nose-down Cm between 30 and 70 degrees", "whose", "tailplane",
        "angles to", "margin", "95 % of\ndraws", "hangs from,\n% MAC", "95 % of\ndraws", left=2,
    )  # fmt: skip
    for x in hangs:
        add(
            out, x.whose, x.state, f"{x.up_to_deg:g}", f"{x.margin:+.3f}",
            "-" if x.margin_spread is None else "{:+.3f}..{:+.3f}".format(*x.margin_spread),
            f"{x.hangs_pct:.1f}",
            "-" if x.hangs_spread is None else "{:.1f}..{:.1f}".format(*x.hangs_spread),
        )  # fmt: skip
    return out


def record(result: Result) -> dict:
    """Return one case as it is written to JSON."""
    return {
        "case": result.case.name,
        "lines": [_plain(line) for line in _all_lines(result.quantities)],
        "every_value": [_plain(line) for line in _all_lines(result.direct)],
        "deep_stall": [_plain(x) for x in result.hangs],
    }


def _plain(line: Any) -> dict[str, Any]:
    """Return a record's fields, None for numbers that there are not."""
    return {
        key: None if isinstance(value, float) and not isfinite(value) else value
        for key, value in asdict(line).items()
    }


def run(words: list[str], out: str | None, path: str | None, draws: int = DRAWS) -> int:
    """Print, draw and write the cases; return the exit code, 2 for files that cannot be used."""
    if len(words) not in (0, 2):
        print("--whole: takes no file, or an aeroplane and its data: AEROPLANE.toml DATA.csv")
        return 2
    given = [Case(Path(words[0]).stem, Path(words[0]).stem, *map(Path, words))] if words else []
    results = []
    for case in given or development():
        if not given and not (case.data.is_file() and case.aeroplane.is_file()):
            show([paragraph(f"{case.title}: left out, {case.data.name} is not there")])
            continue
        try:
            results.append(compare(case, draws))
        except (FileFault, ValueError, OSError) as fault:
            print(fault, file=sys.stderr)
            return 2
        printed: Tables = list(tables(results[-1], draws))
        show(printed)
        if out is not None:
            for page in draw(case.name, case.title, results[-1].quantities, Path(out)):
                print(page)
    if path is not None:
        content = {"schema": SCHEMA, "version": __version__, "cases": [record(r) for r in results]}
        put_json(Path(path), content)
    return 0
