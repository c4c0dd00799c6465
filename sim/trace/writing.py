"""Keys of a TOML text given new numbers, everything else of it left as it is."""

import re
import tomllib
from collections.abc import Mapping, Sequence
from copy import deepcopy

from sim.describe.plain import Table
from sim.trace.frame import Untraceable
from sim.trace.to_aeroplane import Changes
from sim.units.factors import UNITS, split

HEADER = re.compile(r"\s*\[\[?\s*([\w. -]+?)\s*\]\]?\s*(#.*)?$")
SAME = 0.05  # mm or degrees: less than what is written is no change
Line = tuple[str, str, str]  # key, what it was, what it is


def rewritten(text: str, changes: Changes) -> tuple[str, list[Line]]:
    """Return an aeroplane's text with new values, and a line for each key that changed.

    A key keeps its unit and its comment; stations are written anew, their comments above them. What
    was traced is struck from ``assumed``.

    Raises
    ------
    Untraceable
        The file is written in a form in which the keys cannot be found.
    """
    raw = tomllib.loads(text)
    wanted, lines, told = deepcopy(raw), text.splitlines(keepends=True), []
    for i, values in changes.surfaces.items():
        table = raw["surfaces"][i]
        for stem, value in values.items():
            key, number = _in_its_unit(table, stem, value)
            if abs(float(table.get(key, 0.0)) - number) < SAME * _unit_size(key):
                continue
            wanted["surfaces"][i][key] = number
            _set(lines, _block(lines, "surfaces", i), key, f"{number!r}")
            told.append((f"surfaces.{table['name']}.{key}", f"{table.get(key, 0.0):g}",
                         f"{number:g}"))  # fmt: skip
    for i, stations in changes.stations.items():
        table = raw["bodies"][i]
        if _alike(stations, table["stations"]):
            continue
        wanted["bodies"][i]["stations"] = stations
        _set_stations(lines, _block(lines, "bodies", i), stations)
        told.append((f"bodies.{table['name']}.stations", f"{len(table['stations'])} stations",
                     _stations_told(stations)))  # fmt: skip
    for key in [x for x in raw.get("assumed", []) if x in changes.known]:
        wanted["assumed"].remove(key)
        _strike(lines, key)
        told.append((key, "assumed", "traced"))
    made = "".join(lines)
    _demand(made, wanted)
    return made, told


def answered(text: str, values: Mapping[str, float]) -> tuple[str, list[Line]]:
    """Return an answers file's text with answers put in; errors as `rewritten`."""
    raw = tomllib.loads(text)
    wanted, lines, told = deepcopy(raw), text.splitlines(keepends=True), []
    blank = [str(x) for x in raw.get("left_blank", []) if x not in values]
    if "left_blank" in raw and len(blank) < len(raw["left_blank"]):
        wanted["left_blank"] = blank
        _set(lines, range(len(lines)), "left_blank", "[" + ", ".join(f'"{x}"' for x in blank) + "]")
    for stem, value in values.items():
        key, number = _in_its_unit(raw, stem, value)
        was = raw.get(key)
        if isinstance(was, int | float) and abs(was - number) < SAME * _unit_size(key):
            continue
        wanted[key] = number
        _set(lines, range(len(lines)), key, f"{number!r}")
        told.append((key, "-" if was is None else f"{was}", f"{number:g}"))
    made = "".join(lines)
    _demand(made, wanted)
    return made, told


def _demand(made: str, wanted: Table) -> None:
    """Refuse a text that does not say what it should: the file has a form of its own."""
    try:
        good = tomllib.loads(made) == wanted
    except tomllib.TOMLDecodeError:
        good = False
    if not good:
        text = "write surfaces and bodies as [[surfaces]] and [[bodies]], a key a line: in this "
        raise Untraceable("", f"{text}form the keys cannot be found and changed safely")


def _in_its_unit(table: Table, stem: str, value: float) -> tuple[str, float]:
    """Return the key as the file has it, and the value in that key's unit, rounded to 0.1 mm."""
    base, unit = split(stem) or (stem, None)
    if unit is not None and stem not in table:
        for suffix, other in UNITS.items():
            if other.kind == unit.kind and f"{base}_{suffix}" in table:
                digits = 1 if suffix == "mm" else 2 if suffix == "cm" else 3
                return f"{base}_{suffix}", round(unit.to(other, float(value)), digits) + 0.0
    return stem, round(float(value), 1) + 0.0


def _unit_size(key: str) -> float:
    """Return how much of a key's unit a mm is; 1 for degrees."""
    parts = split(key)
    return 1.0 if parts is None else UNITS["mm"].to(parts[1], 1.0)


def _block(lines: Sequence[str], array: str, number: int) -> range:
    """Return the lines of one table of an array of tables, to its next header."""
    found = -1
    for i, line in enumerate(lines):
        header = HEADER.match(line)
        if not header:
            continue
        if line.lstrip().startswith("[[") and header[1] == array:
            found += 1
            if found == number:
                after = (j for j in range(i + 1, len(lines)) if HEADER.match(lines[j]))
                return range(i + 1, next(after, len(lines)))
    raise Untraceable("", f"has no [[{array}]] to write into; write it in that form")


def _set(lines: list[str], block: range, key: str, value: str) -> None:
    """Put a value behind a key in a block, its comment kept; a new key at the block's end."""
    for i in block:
        match = re.match(rf"(\s*{re.escape(key)}\s*=\s*)([^#\n]*?)(\s*(?:#.*)?\n?)$", lines[i])
        if match:
            lines[i] = f"{match[1]}{value}{match[3]}"
            return
    at = block.stop
    while at > block.start and not lines[at - 1].strip():
        at -= 1
    if at > 0 and not lines[at - 1].endswith("\n"):
        lines[at - 1] += "\n"
    lines.insert(at, f"{key} = {value}\n")


def _strike(lines: list[str], key: str) -> None:
    """Take a key out of the list ``assumed``, which begins and ends with brackets of its own."""
    start = next((i for i, x in enumerate(lines) if re.match(r"\s*assumed\s*=", x)), len(lines))
    for i in range(start, len(lines)):
        without = re.sub(rf"[\"']{re.escape(key)}[\"']\s*,?\s*?", "", lines[i], count=1)
        if without != lines[i]:
            lines[i : i + 1] = [without] if without.split("#")[0].strip() else []
            return


def _set_stations(lines: list[str], block: range, stations: list[dict[str, float]]) -> None:
    start = next((i for i in block if re.match(r"\s*stations\s*=", lines[i])), None)
    if start is None:
        raise Untraceable("", "has no key stations below [[bodies]]; write it in that form")
    end, depth = start, 0
    for end in range(start, block.stop):
        bare = lines[end].split("#")[0]
        depth += bare.count("[") - bare.count("]")
        if depth <= 0:
            break
    kept = [f"#{x.partition('#')[2].rstrip()}\n" for x in lines[start : end + 1] if "#" in x]
    rows = [
        "    { " + ", ".join(f"{k} = {v!r}" for k, v in station.items()) + " },\n"
        for station in stations
    ]
    lines[start : end + 1] = [*kept, "stations = [\n", *rows, "]\n"]


def _alike(stations: list[dict[str, float]], was: list[dict[str, float]]) -> bool:
    """Return True if stations are those of the file, which may leave out a height of 0."""
    return len(stations) == len(was) and all(
        abs(new[key] - float(old.get(key, 0.0))) < SAME
        for new, old in zip(stations, was, strict=True)
        for key in new
    )


def _stations_told(stations: list[dict[str, float]]) -> str:
    long = stations[-1]["aft_mm"] - stations[0]["aft_mm"]
    wide, high = (max(s[key] for s in stations) for key in ("width_mm", "height_mm"))
    return f"{len(stations)} stations, {long:g} mm long, at most {wide:g} wide and {high:g} high"
