"""What a file may hold, whatever kind it is: how much, how deep, how many, which letters.

Files come from other people too. What lies beyond these bounds is no aeroplane, and would only
take the memory, the time or the terminal of whoever opens it.
"""

import unicodedata
from collections.abc import Iterator, Mapping
from pathlib import Path

from sim.describe.faults import Fault

MOST_BYTES = 1 << 20  # of a file that is typed; the largest bundled one is a fiftieth of it
LONGEST_LINE = 5000  # of a table
LONGEST_TEXT = 4000
LONGEST_KEY = 60
DEEPEST = 12  # tables and lists inside each other; an aeroplane has five
LONGEST_LIST = 2000
LARGEST = 2**63  # TOML's own bound on whole numbers

# what writes over, colours or reorders a terminal: control characters (Cc), turned reading
# directions (Cf among them), halves of a character (Cs), separators of lines (Zl, Zp)
_FORBIDDEN = ("Cc", "Cs", "Zl", "Zp")
_TURNING = frozenset("\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_BLANKS = "\n\t"


class TooMuch(ValueError):  # noqa: N818  named like the other faults a user reads
    """A file is larger than any of its kind."""


def read_text(path: Path, most: int = MOST_BYTES) -> str:
    """Return the text of a file, without a byte-order mark, of at most so many bytes.

    Raises
    ------
    TooMuch
        It is larger; nothing more of it has been read.
    OSError, UnicodeDecodeError
        It cannot be read, or is no text.
    """
    with path.open("rb") as file:
        data = file.read(most + 1)
    if len(data) > most:
        raise TooMuch(f"is larger than {most // 1024} KiB, more than any such file needs")
    return data.decode("utf-8-sig").replace("\r\n", "\n")


def odd_letter(text: str, blanks: str = _BLANKS) -> str:
    """Return the first character that no name or text may hold, as U+001B; empty without any.

    Parameters
    ----------
    blanks : str
        Line ends and the like that are allowed.
    """
    if text.isascii() and text.isprintable():
        return ""
    for letter in text:
        odd = unicodedata.category(letter) in _FORBIDDEN or letter in _TURNING
        if odd and letter not in blanks:
            return f"U+{ord(letter):04X}"
    return ""


def plain(text: str) -> str:
    """Return a text as it may go to a terminal: odd characters but line ends as escapes."""
    if not odd_letter(text):
        return text
    return "".join(
        x if not odd_letter(x) else x.encode("ascii", "backslashreplace").decode()
        if not x.isascii() else f"\\x{ord(x):02x}"
        for x in text
    )  # fmt: skip


def shortened(text: str, most: int = LONGEST_KEY) -> str:
    """Return a text of at most so many letters, odd ones as escapes."""
    said = plain(text).replace("\n", " ")
    return said if len(said) <= most else said[: most - 3] + "..."


def out_of_bounds(
    raw: object, longest: int = LONGEST_LIST, key_letters: int = LONGEST_KEY
) -> Iterator[Fault]:
    """Yield a fault for whatever in a parsed file is beyond the bounds, however it is nested.

    Parameters
    ----------
    longest : int
        Most items of a list.
    key_letters : int
        Most letters of a key.
    """
    todo: list[tuple[str, int, object]] = [("", 0, raw)]
    while todo:
        path, depth, value = todo.pop()
        if isinstance(value, Mapping | list):
            if depth > DEEPEST:
                text = f"is nested more than {DEEPEST} deep; no table of this program is"
                yield Fault(_start(path), text)
                return
            if len(value) > longest:
                yield Fault(path, f"holds {len(value)} items; {longest} are the most")
                continue
        if isinstance(value, Mapping):
            for key, item in value.items():
                fault = _key_fault(str(key), key_letters)
                if fault:
                    yield Fault(path, fault)
                else:
                    todo.append((f"{path}.{key}" if path else str(key), depth + 1, item))
        elif isinstance(value, list):
            todo += [(f"{path}[{i}]", depth + 1, item) for i, item in enumerate(value, 1)]
        else:
            text = _value_fault(value)
            if text:
                yield Fault(path, text)


def _start(path: str) -> str:
    """Return the outermost step of a key path."""
    return path.split(".", 1)[0].split("[", 1)[0]


def _key_fault(key: str, most: int) -> str:
    if len(key) > most:
        text = f"has a key of {len(key)} letters, {shortened(key, 20)!r}"
        return f"{text}; {most} are the most"
    odd = odd_letter(key, "")
    return f"has a key with the control character {odd}; leave that out" if odd else ""


def _value_fault(value: object) -> str:
    if isinstance(value, str):
        if len(value) > LONGEST_TEXT:
            return f"holds {len(value)} letters; {LONGEST_TEXT} are the most"
        odd = odd_letter(value)
        return f"holds the control character {odd}; leave it out" if odd else ""
    if isinstance(value, int) and not -LARGEST <= value < LARGEST:
        return "is a whole number beyond all bounds, more than 9.2e18 in size"
    return ""
