"""What no file may hold is told in one clear line each, whatever kind of file it is."""

import json
from pathlib import Path

import pytest

from sim.cli import main
from sim.describe import FileFault, load_aeroplane
from sim.describe.reading.bounds import MOST_BYTES, odd_letter, plain
from sim.record.files import read_json

SAMPLE = Path(__file__).with_name("sample_jet.toml")
GOOD = SAMPLE.read_text(encoding="utf-8")
TITLE = next(line for line in GOOD.splitlines() if line.startswith("title"))
SPAN = "panel_span_mm = 575.0"

SLIPS = {
    "a 400-digit whole number": (
        (SPAN, "panel_span_mm = " + "9" * 400),
        "surfaces[1].panel_span_mm: is a whole number beyond all bounds, more than 9.2e18 in size",
    ),
    "a 9000-digit whole number": (
        (SPAN, "panel_span_mm = " + "9" * 9000),
        "is not valid TOML here: it holds a whole number of too many digits",
    ),
    "2000-fold brackets": (
        (TITLE, f"{TITLE}\nzzz = {'[' * 2000}{']' * 2000}"),
        "is not valid TOML here: it holds brackets nested too deep",
    ),
    "100-fold brackets": (
        (TITLE, f"{TITLE}\nzzz = {'[' * 100}{']' * 100}"),
        "zzz: is nested more than 12 deep; no table of this program is",
    ),
    "2000-fold tables": (
        (TITLE, f"{TITLE}\n{'.'.join(['a'] * 2000)} = 1"),
        "a: is nested more than 12 deep; no table of this program is",
    ),
    "a control character in a text": (
        (TITLE, r'title = "a\u001b[2Jb"'),
        "title: holds the control character U+001B; leave it out",
    ),
    "letters that turn the reading direction": (
        (TITLE, r'title = "a\u202Eb"'),
        "title: holds the control character U+202E; leave it out",
    ),
    "a control character in a key": (
        (TITLE, TITLE + '\n"a\\u0007b" = 1'),
        "has a key with the control character U+0007; leave that out",
    ),
    "a title of several lines": (
        (TITLE, r'title = "a\nb"'),
        r"title: must be one line, without line ends and tabs; got 'a\nb'",
    ),
    "a long title": (
        (TITLE, f'title = "{"x" * 300}"'),
        "title: must be of at most 200 letters, not 300; got '" + "x" * 56 + "...",
    ),
    "a very long title": (
        (TITLE, f'title = "{"x" * 50000}"'),
        "title: holds 50000 letters; 4000 are the most",
    ),
    "a long key": (
        (TITLE, f"{TITLE}\n{'k' * 5000} = 1"),
        f"has a key of 5000 letters, '{'k' * 17}...'; 60 are the most",
    ),
    "a long list": (
        (TITLE, f"{TITLE}\nzzz = [{'1,' * 5000}]"),
        "zzz: holds 5000 items; 2000 are the most",
    ),
    "a huge file": (
        (TITLE, f"{TITLE}\n# {'x' * MOST_BYTES}"),
        "is larger than 1024 KiB, more than any such file needs",
    ),
}  # fmt: skip


@pytest.mark.parametrize("slip", SLIPS)
def test_what_no_file_may_hold_is_told_in_one_line(slip, tmp_path, capsys):
    (old, new), said = SLIPS[slip]
    assert old in GOOD
    path = tmp_path / "mine.toml"
    path.write_text(GOOD.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(FileFault) as caught:
        load_aeroplane(path)
    assert str(caught.value).removeprefix("mine.toml: ") == said
    assert main(["weigh", str(path)]) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1
    assert len(told) < 200


@pytest.mark.parametrize("name", ["\x1b[2Jx.toml", "x" * 5000, "x" * 5000 + ".toml", "a\nb"])
def test_a_name_on_the_command_line_cannot_write_over_the_terminal(name, capsys):
    assert main(["weigh", name]) == 2
    told = capsys.readouterr().err
    assert told.endswith("\n")
    assert not odd_letter(told)
    assert all(len(line) <= 2100 for line in told.splitlines())


def test_odd_letters_are_seen_and_told_as_escapes():
    assert plain("täglich 12 °, …\n") == "täglich 12 °, …\n"
    assert plain("a\x1b[1m\u202eb\ud800") == "a\\x1b[1m\\u202eb\\ud800"
    assert odd_letter("\x7f") == "U+007F"
    assert odd_letter("é ✓ 日本") == ""


@pytest.mark.parametrize(
    "text",
    [
        "", "{", "nul", "NaN", "[Infinity]", "1e999", "[" * 100_000, "[" * 50 + "]" * 50,
        "9" * 400, "9" * 9000, '"\\ud800"', '{"a\\u001b": 1}', json.dumps("\x9b2J"),
    ],
)  # fmt: skip
def test_json_that_no_file_may_hold_is_refused(text, tmp_path):
    path = tmp_path / "a.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ValueError) as caught:
        read_json(path)
    assert len(str(caught.value)) < 200
