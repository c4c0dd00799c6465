"""Changes to a file that a slip, a crash or a stranger could make: in its tables, or in its bytes.

Every change follows from the seed of the generator that it is handed.
"""

import json
import math
from collections.abc import Iterator
from copy import deepcopy
from random import Random
from typing import Any

Place = tuple[Any, Any]  # a table or list, and a key or number in it

NUMBERS = (
    0, -0.0, 1, -1, 1e-300, 1e300, -1e300, 1e9, 3.7, math.nan, math.inf, -math.inf, 2**63 - 1,
    10**400, 0.5, 100, 180.0, -90,
)  # fmt: skip
OTHERS = (
    True, False, "", " ", "x", "x" * 61, "x" * 5000, "a\x1b[2Jb", "a\nb", "\u202e", "../../x",
    "$x$ %", "<b>&amp;", "{{ 1 }}", "nan", "日本", [], {}, [[]], [1, "a"], {"a": {"b": 1}},
)  # fmt: skip
FACTORS = (-1.0, 0.001, 0.1, 0.5, 0.9, 1.1, 2.0, 10.0, 1000.0)


def places(raw: Any) -> Iterator[Place]:
    """Yield every place in nested tables and lists."""
    items = raw.items() if isinstance(raw, dict) else enumerate(raw)
    for key, value in items:
        yield raw, key
        if isinstance(value, dict | list):
            yield from places(value)


def odd_value(random: Random) -> Any:
    """Return a value that belongs nowhere."""
    if random.random() < 0.01:
        deep: Any = 1
        for _ in range(random.choice((20, 150))):
            deep = [deep]
        return deep
    return random.choice(NUMBERS + OTHERS)


def mutate(raw: Any, random: Random) -> None:
    """Change one to three places of nested tables and lists."""
    for _ in range(random.choice((1, 1, 1, 2, 3))):
        _change(raw, random)


def _change(raw: Any, random: Random) -> None:
    every = list(places(raw))
    if not every:
        return
    holder, key = random.choice(every)
    value, kind = holder[key], random.random()
    number = isinstance(value, int | float) and not isinstance(value, bool) and value not in NUMBERS
    if kind < 0.15:
        del holder[key]
    elif kind < 0.5 and number:
        holder[key] = value * random.choice(FACTORS)
    elif kind < 0.75:
        holder[key] = odd_value(random)
    elif kind < 0.85:  # another place's value
        other, there = random.choice(every)
        taken = other.get(there) if isinstance(other, dict) else other[there % len(other)]
        holder[key] = deepcopy(taken)
    elif isinstance(holder, dict):
        name = random.choice((f"{key}x", "", "a.b", str(key)[:-1], "x" * 100, "\x07"))
        holder[name] = holder.pop(key)
    else:
        holder.insert(key, value)


def damage(data: bytes, random: Random) -> bytes:
    """Return bytes cut short, with some changed, a line twice, lost or out of order."""
    kind, at = random.randrange(7), random.randrange(max(1, len(data)))
    if kind == 0:
        return data[:at]
    if kind == 1:
        return data[:at] + bytes([random.randrange(256)]) + data[at + 1 :]
    if kind == 2:
        return data[:at] + random.choice((b"\x00", b"\xff", b'"', b"[", b"\r", b"=")) + data[at:]
    lines = data.split(b"\n")
    row, other = random.randrange(len(lines)), random.randrange(len(lines))
    if kind == 3:
        lines.insert(other, lines[row])
    elif kind == 4:
        del lines[row]
    elif kind == 5:
        lines[row], lines[other] = lines[other], lines[row]
    else:
        return data[:at] * random.choice((2, 3)) + data[at:]
    return b"\n".join(lines)


def toml_of(raw: dict[str, Any]) -> str:
    """Return tables as TOML, a line a key; numbers and nesting beyond TOML's too."""
    return "\n".join(f"{json.dumps(str(key))} = {_inline(value)}" for key, value in raw.items())


def _inline(value: Any) -> str:
    if isinstance(value, dict):
        inside = ", ".join(f"{json.dumps(str(k))} = {_inline(v)}" for k, v in value.items())
        return f"{{ {inside} }}"
    if isinstance(value, list):
        return f"[{', '.join(map(_inline, value))}]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float) and not math.isfinite(value):
        return str(value)
    return json.dumps(value)
