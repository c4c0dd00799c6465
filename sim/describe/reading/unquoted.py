"""A TOML list whose texts have lost their quotes: seen in the line, and told as it should read."""

import re

from sim.describe.reading.bounds import shortened

BEGINS = re.compile(r"^\s*([\w.-]+)\s*=\s*\[(.*)$")  # a key and what stands behind its [
WORDS = re.compile(r"[^\W\d_]")  # a letter
BARE = re.compile(r"true|false|[-+]?(?:inf|nan)|[-+]?[\d_.]+(?:e[-+]?\d+)?", re.IGNORECASE)
NUMBERS = re.compile(r"[\d.]+(?:\s+[\d.]+)+")  # 6 4000 640 138
LOOKED_BACK = 20  # lines, for the key of a list over several


def unquoted(line: str, above: list[str], texts: bool) -> str | None:
    """Return how a line of a list should read whose texts lack quotes; None where none does.

    Parameters
    ----------
    line : str
        Without its remark.
    above : list of str
        The lines before it, for a list that goes over several.
    texts : bool
        Whether a list of this file holds texts alone, so that numbers in a row are one.
    """
    begun = BEGINS.match(line)
    if begun is None and ("=" in line or not _inside(above)):
        return None
    head, inner = (f"{begun[1]} = [", begun[2]) if begun is not None else ("", line)
    inner, tail = inner.strip(), ""
    if inner.endswith("]"):
        inner, tail = inner[:-1], "]"
    elif begun is None and inner.endswith(","):
        inner, tail = inner[:-1], ","
    if "{" in inner or "[" in inner:
        return None
    items = [item.strip() for item in inner.split(",")]
    if not any(_lacks(item, texts) for item in items):
        return None
    told = ", ".join(_mended(item, texts) for item in items if item)
    return f"each text of a list stands in quotes: {shortened(f'{head}{told}{tail}')}"


def _inside(above: list[str]) -> bool:
    """Return whether the lines above leave a list open."""
    for line in reversed(above[-LOOKED_BACK:]):
        begun = BEGINS.match(line)
        if begun is not None:
            return "]" not in begun[2]
        if "=" in line or "]" in line:
            return False
    return False


def _lacks(item: str, texts: bool) -> bool:
    """Return whether an item is a text that lacks a quote or both."""
    if re.fullmatch(r"""("[^"]*"|'[^']*')""", item) or BARE.fullmatch(item):
        return False
    if item.count('"') not in (0, 1) or "'" in item:
        return False
    return bool(WORDS.search(item)) or (texts and bool(NUMBERS.fullmatch(item.strip('"'))))


def _mended(item: str, texts: bool) -> str:
    bare = item.strip('"').strip()
    return f'"{bare}"' if _lacks(item, texts) else item
