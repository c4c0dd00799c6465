"""What a parser cannot read of a TOML file, in a pilot's words: the line, and how to mend it.

A parser says where it stopped. What was likely meant is seen from the line that it stopped in.
"""

import re
import tomllib
from collections.abc import Callable

from sim.describe.reading.bounds import LONGEST_LINE, shortened
from sim.describe.reading.unquoted import unquoted
from sim.units.factors import UNITS, split

AT = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")
PAIR = re.compile(r"^\s*([\w.-]+)\s*=\s*(.*?)\s*$")
NUMBER = r"[-+]?\d+(?:[.,]\d+)?"
LOOKED_BACK = 20  # lines, for what a list held last
LONGEST_WORDS = 200
ANSWERS = "aftlimit.answers/"  # whose numbers may have their unit, in quotes
CURLY = "\u201c\u201d\u201e\u00ab\u00bb\u2018\u2019"


def toml_words(text: str, error: tomllib.TOMLDecodeError) -> str:
    """Return what is wrong with a text that is no TOML, where, and how to mend it.

    Parameters
    ----------
    text : str
        Of the whole file.
    error : TOMLDecodeError
        As raised for it.
    """
    said = str(error)
    found = AT.search(said)
    what = AT.sub("", said)
    lines = text.split("\n")
    if found is None or found[1] is None:
        number, column = _last(lines)
    else:
        number, column = int(found[1]), int(found[2])
    line = lines[number - 1] if number <= len(lines) else ""
    mend = _mended(text, lines[: number - 1], line, column, what)
    if mend is None:
        mend = f"{what[:1].lower()}{what[1:]}; check quotes, brackets and commas there"
    told = shortened(line.strip())
    mend = shortened(mend, LONGEST_WORDS)
    return f"line {number}, column {column}, reads  {told}  and is not valid TOML: {mend}"


def _last(lines: list[str]) -> tuple[int, int]:
    """Return line and column of the end of what is written."""
    number = max((i for i, line in enumerate(lines, 1) if line.strip()), default=1)
    return number, len(lines[number - 1].rstrip()) + 1


def _mended(text: str, above: list[str], line: str, column: int, what: str) -> str | None:
    """Return how to mend a line, or None where nothing is recognised."""
    bare = _without_comment(line[:LONGEST_LINE])
    if (quotes := unquoted(bare, above, ANSWERS in text)) is not None:
        return quotes
    if what == "Unclosed array":
        return _array(above, line, column)
    if re.search(rf"[{CURLY}]", bare):
        return 'use straight quotes, "…"'
    if re.match(r"^\s*\[", bare) and bare.count("[") != bare.count("]"):
        return f"a ] is missing: {bare.strip().rstrip(']')}{']' * bare.count('[')}"
    if re.search(r"overwrite|twice|already", what):
        return "it is given twice in the file; keep one of them"
    if what == "Unclosed inline table":
        open_ = bare.count("{") - bare.count("}")
        if open_ > 0:
            return f"a }} is missing: {bare.strip()}{' }' * open_}"
        return _array(above, line, column).replace("a ] is", "a comma or a } is")
    comma = re.search(r"([\w.-]+)\s*=\s*([-+]?\d+),(\d+)(?=\s*(?:$|[,}\]]))", bare)
    if comma is not None:
        return f"use a point: {comma[1]} = {comma[2]}.{comma[3]}"
    pair = PAIR.match(bare)
    if pair is None:
        return _no_pair(bare)
    return _value(pair[1], pair[2], ANSWERS in text)


def _without_comment(line: str) -> str:
    """Return a line up to a # that stands in no quotes."""
    found = re.match(r"""(?:"[^"]*"|'[^']*'|[^#"'])*""", line)
    return found[0] if found is not None and line[found.end() :].startswith("#") else line


def _array(above: list[str], line: str, column: int) -> str:
    """Return what is missing in a list, seen from where its next item should have ended."""
    before = "\n".join([*above[-LOOKED_BACK:], line[: column - 1]]).rstrip()[-LONGEST_LINE:]
    rest = line[column - 1 :]
    item = re.search(r"""("[^"\n]*"|'[^'\n]*'|\{[^{}]*\}|[^\s,\[\]]+)$""", before)
    after = f" after {shortened(item[0])}" if item is not None else ""
    if re.match(r"""["'{\[\d+-]""", rest) and not PAIR.match(rest):
        return f"a comma is missing{after}"
    return f"a ] is missing{after}"


def _no_pair(bare: str) -> str | None:
    colon = re.match(r"^\s*([\w.-]+)\s*:\s*(.+?)\s*$", bare)
    if colon is not None:
        return f"put = between key and value: {colon[1]} = {colon[2]}"
    blank = re.match(r"^\s*(\w+(?: +\w+)+)\s*=", bare)
    if blank is not None:
        return f"a key has no blank in it: {'_'.join(blank[1].split())}"
    if re.match(r"^\s*[\w.-]+(\s|$)", bare):
        return "it must be  key = value ; put a # before what is only a remark"
    return None


def _value(key: str, value: str, answers: bool) -> str | None:
    """Return how to mend what stands after an =."""
    rules: tuple[tuple[str, Callable[[re.Match[str]], str]], ...] = (
        (r"", lambda m: "nothing stands after the = ; give it, or put a # before the line"),
        (r"""(["'])(.*)""", lambda m: _quoted(key, value)),
        (r"([-+]?)0+(\d+(?:\.\d+)?)", lambda m: f"no nought in front: {key} = {m[1]}{m[2]}"),
        (r"([-+]?)\.(\d+)", lambda m: f"a digit before the point: {key} = {m[1]}0.{m[2]}"),
        (r"([-+]?\d+)\.", lambda m: f"a digit after the point: {key} = {m[1]}.0"),
        (r"[-+]?\d{1,3}(?:[ '.]\d{3})+",
         lambda m: f"one number, without gaps: {key} = {re.sub(r'[^-+0-9]', '', value)}"),
        (rf"({NUMBER})\s*([^\d\s,.\[\]{{}}][^,\[\]{{}}]*)",
         lambda m: _with_unit(key, m[1].replace(",", "."), m[2].strip(), answers)),
        (rf"[^\d\"'\[\]{{}}]*[^\d\"'\[\]{{}}+-]({NUMBER})\D*",
         lambda m: f"only a number may stand there: {key} = {m[1].replace(',', '.')}"),
        (r"[^\"'\[\]{}=]+",
         lambda m: f'words need quotes, {key} = "{value}" ; to leave it out put a # before it'),
    )  # fmt: skip
    for pattern, mend in rules:
        if (match := re.fullmatch(pattern, value)) is not None:
            return mend(match)
    return None


def _quoted(key: str, value: str) -> str:
    """Return what is wrong with a text in quotes."""
    mark = value[0]
    if value.count(mark) % 2:
        return f"a closing quote is missing: {key} = {value}{mark}"
    rest = value[value.index(mark, 1) + 1 :].strip()
    return f"nothing may stand behind the closing quote; got {shortened(rest)}"


def _with_unit(key: str, number: str, unit: str, answers: bool) -> str:
    """Return how a number with its unit is written: in quotes among answers, or in the key."""
    parts, said = split(key), {'"': "in", "°": "deg"}.get(unit, unit.lower().replace(" ", ""))
    if answers:
        typed = f"{number} {unit}".replace('"', "in")
        return f'a number with its unit needs quotes: {key} = "{typed}"'
    if parts is not None and said in UNITS and UNITS[said].kind == parts[1].kind:
        return f"the unit stands in the key: {parts[0]}_{said} = {number}"
    return f"only a number may stand there: {key} = {number}"
