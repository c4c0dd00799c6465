"""Break a file, read it, and say what is wrong with the answer."""

import cmath
import time
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from random import Random
from traceback import format_exception_only

from sim.describe import FileFault
from sim.describe.reading.bounds import odd_letter
from tests.fuzz.kinds import KINDS, FileKind, numbers
from tests.fuzz.mutating import damage, mutate

LONGEST_S = 2.0  # of processor; a sound file takes a tenth of it
ENDINGS = {"section": "csv", "recording": "json", "results": "json", "batch": "npy"}
Failure = tuple[str, int, str]


@cache
def _sound(kind: FileKind) -> tuple[bytes, ...]:
    return kind.sound()


def broken(kind: FileKind, seed: int) -> bytes:
    """Return a file of a kind, broken as a seed has it."""
    random = Random(f"{kind.name} {seed}")
    data = random.choice(_sound(kind))
    if kind.parse is None or random.random() < 0.25:
        return damage(data, random)
    tables = kind.parse(data)
    mutate(tables, random)
    return kind.written(tables).encode("utf-8", "surrogatepass")


def wrong(kind: FileKind, seed: int, folder: Path) -> str:
    """Return what is wrong with how a broken file is answered; empty where it is answered well."""
    path = folder / f"mine.{ENDINGS.get(kind.name, 'toml')}"
    path.write_bytes(broken(kind, seed))
    began = time.process_time()
    try:
        given = kind.opened(path)
        odd = [x for x in numbers(given) if isinstance(x, complex) or not cmath.isfinite(x)]
        said = f"gave {odd[0]}" if odd else ""
    except (FileFault, ValueError) as error:
        said = _badly_told(error)
    except Exception as error:
        said = f"raised {format_exception_only(error)[-1].strip()[:300]}"
    took = time.process_time() - began
    return said or (f"took {took:.1f} s" if took > LONGEST_S else "")


def _badly_told(error: Exception) -> str:
    """Return what is wrong with a refusal; it names its file, in short plain lines."""
    lines = str(error).splitlines()
    if not isinstance(error, FileFault) and type(error) is not ValueError:
        return f"raised {type(error).__name__}: {error}"[:300]
    if not lines or not any(x in lines[0] for x in ("mine.", "polar.csv", "flown", ".toml")):
        return f"names no file: {str(error)[:200]}"
    if any(odd_letter(line) for line in lines):
        return f"has a control character: {str(error)[:200]!r}"
    if any(len(line) > 1500 for line in lines):
        return f"is a line of {max(map(len, lines))} letters: {lines[0][:200]}"
    return ""


def failures(
    count: int, first: int, folder: Path, names: tuple[str, ...] = ()
) -> Iterator[Failure]:
    """Yield kind, seed and what is wrong, of ``count`` broken files of each kind."""
    for kind in KINDS:
        for seed in range(first, first + count):
            if not names or kind.name in names:
                said = wrong(kind, seed, folder)
                if said:
                    yield kind.name, seed, said
