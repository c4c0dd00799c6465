"""What a recording must hold to be played, whoever wrote it: sizes, order, places that can be."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import hypot, isfinite

# far beyond any model aeroplane's flight, near enough to be drawn
MOST_ROWS = 20_000
MOST_S = 3600.0
MOST_ALONG_M = 20_000.0
MOST_UP_M = 4_000.0  # from 3 km, the highest entry
MOST_SIZE_M = 100.0  # of an aeroplane's mesh
MOST_NUMBERS = 300_000  # of a part's vertices or triangles
MOST_OTHER = 1e6  # angles, rates, speeds, loads
MOST_ITEMS = 500  # parts, events, phases
UNIT_WITHIN = 0.05  # a rotation is written with three digits

MOST = {
    "t_s": MOST_S, "north_m": MOST_ALONG_M, "east_m": MOST_ALONG_M, "up_m": MOST_UP_M,
    "q0": 2.0, "q1": 2.0, "q2": 2.0, "q3": 2.0,
}  # fmt: skip

Faults = Iterator[tuple[str, str]]
Rows = Mapping[str, Sequence[float]]


def too_large(path: str, values: Sequence[float], most: float) -> Faults:
    """Yield a fault for the first of many numbers that is `not_within`."""
    for row, value in enumerate(values, 1):
        faults = list(not_within(f"{path}[{row}]", value, most))
        if faults:
            yield faults[0]
            return


def not_within(path: str, value: float, most: float) -> Faults:
    """Yield a fault for a number that is not finite, or larger than ``most`` either way."""
    if not isfinite(value) or abs(value) > most:
        yield path, f"must be at least {-most:g} and at most {most:g}; got {value:g}"


def too_many(path: str, items: Sequence[object]) -> Faults:
    """Yield a fault for a list that nobody could read or draw."""
    if len(items) > MOST_ITEMS:
        yield path, f"must hold at most {MOST_ITEMS}; got {len(items)}"


def column_faults(columns: Rows, surfaces: Rows) -> Faults:
    """Yield what keeps the columns of a recording from being played."""
    times = columns["t_s"]
    if not 2 <= len(times) <= MOST_ROWS:
        yield "t_s", f"must hold 2 to {MOST_ROWS} times; got {len(times)}"
        return
    every = {**columns, **{f"surfaces.{name}": values for name, values in surfaces.items()}}
    uneven = [name for name, values in every.items() if len(values) != len(times)]
    for name in uneven:
        yield name, f"must be as long as t_s, {len(times)}; got {len(every[name])} numbers"
    large = [x for name, values in every.items()
             for x in too_large(name, values, MOST.get(name, MOST_OTHER))]  # fmt: skip
    yield from large
    for row, (before, after) in enumerate(pairwise(times), 2):
        if not after > before:
            yield f"t_s[{row}]", f"must rise from row to row; {after:g} comes after {before:g}"
            break
    if uneven or large:
        return
    turns = zip(*(columns[f"q{i}"] for i in range(4)), strict=True)
    for row, turn in enumerate(turns, 1):
        size = hypot(*turn)
        if abs(size - 1.0) > UNIT_WITHIN:
            yield f"q0[{row}]", f"must be a rotation with q1, q2 and q3, of size 1; got {size:.3g}"
            break


def shell_faults(vertices: Sequence[float], triangles: Sequence[int]) -> Faults:
    """Yield what keeps a shell of a mesh from being drawn."""
    corners = len(vertices) // 3
    for path, values in (("vertices", vertices), ("triangles", triangles)):
        if not values or len(values) % 3 or len(values) > MOST_NUMBERS:
            text = f"must hold threes of numbers, at most {MOST_NUMBERS}; got {len(values)}"
            yield path, text
            return
    yield from too_large("vertices", vertices, MOST_SIZE_M)
    for row, corner in enumerate(triangles, 1):
        if not 0 <= corner < corners:
            text = f"must be the number of a vertex, from 0 to {corners - 1}; got {corner}"
            yield f"triangles[{row}]", text
            return


def vector_faults(path: str, vector: Sequence[float], most: float) -> Faults:
    """Yield what keeps numbers from being a place or a direction."""
    if len(vector) != 3:
        yield path, f"must be three numbers; got {len(vector)}"
        return
    yield from too_large(path, vector, most)
