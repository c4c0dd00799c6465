"""``aftlimit trace``: an aeroplane's shape from a picture; the page, and what it saved read."""

import argparse
import os
import shlex
import sys
import tempfile
import webbrowser
from collections.abc import Callable
from pathlib import Path

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.describe import Fault, FileFault, Surface, load_aeroplane
from sim.describe.reading.bounds import read_text
from sim.describe.reading.files import parse
from sim.record.models.trace import trace_record
from sim.show.console.console import doubtful, notes, paragraph, show
from sim.show.trace.page import trace_page
from sim.show.words.traced import doubts_of, traced_lines
from sim.start.asking.answers import answers_from
from sim.study.flights.storing import write_atomically
from sim.trace.frame import Untraceable
from sim.trace.points import read_points
from sim.trace.to_aeroplane import changes_of
from sim.trace.to_answers import SCHEMA, answers_of
from sim.trace.traced import Traced, traced
from sim.trace.writing import Line, answered, rewritten

NEW_ANSWERS = "answers.toml"  # the one file that need not be there


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    picture = Path(args.picture)
    if args.points is None and args.json is not None:
        raise ValueError("--json: needs --points FILE, what the page saved: it tells what changed")
    if args.points is None:
        return _page(args, picture)
    if args.into is None:
        raise ValueError("--points: needs --into FILE, the aeroplane or answers file to write into")
    check_outputs(args, "json")
    found = _traced(Path(args.points), args.view, picture.name)
    into = Path(args.into)
    answers = _is_answers(into)
    try:
        told, doubts, remarks = _written(into, found)
    except Untraceable as fault:
        file = into if fault.where == "" else Path(args.points)
        raise FileFault(file.name, [Fault(fault.where, str(fault))]) from None
    doubts = [*doubts_of(found), *doubts]
    show([paragraph(line) for line in traced_lines(told, found, into, answers)])
    show(notes(f"{line}." for line in remarks))
    show(doubtful(doubts))
    write_asked_json(args, trace_record(into.name, found, told, remarks, doubts))
    return DONE


def _page(args: argparse.Namespace, picture: Path) -> int:
    """Write the page, and open it where somebody sits before it."""
    path = Path(args.page or f"{picture.stem}_{args.view}.html")
    args.page = str(path)
    check_outputs(args, "page")
    saved = f"{picture.stem}_{args.view}_points.json"
    into = args.into or "MY_AEROPLANE.toml"
    command = shlex.join(["aftlimit", "trace", args.picture, "--view", args.view, "--points",
                          saved, "--into", into])  # fmt: skip
    page = trace_page(picture, args.view, saved, command, _surfaces(args.into))
    write_atomically(path, page.encode())
    print(
        f"{path}\nOpen it in a browser, click what it asks for, save the points; then:\n{command}"
    )
    if sys.stdin.isatty() and sys.stdout.isatty():
        webbrowser.open(path.absolute().as_uri())
    return DONE


def _surfaces(into: str | None) -> tuple[Surface, ...]:
    """Return the surfaces of an aeroplane file that is named already."""
    if into is None or _is_answers(Path(into)):
        return ()
    return load_aeroplane(Path(into)).surfaces


def _is_answers(path: Path) -> bool:
    if not path.exists() and path.name == NEW_ANSWERS:
        return True
    return parse(path).get("schema") == SCHEMA


def _traced(path: Path, view: str, picture: str) -> Traced:
    points = read_points(path, view, picture)
    try:
        return traced(points)
    except Untraceable as fault:
        raise FileFault(path.name, [Fault(fault.where, str(fault))]) from None


def _written(into: Path, found: Traced) -> tuple[list[Line], list[str], list[str]]:
    """Write what was traced, all or nothing; return what changed, doubts and remarks."""
    if _is_answers(into):
        new = f'schema = "{SCHEMA}"\n' if not into.exists() else read_text(into)
        made, told = answered(new, answers_of(found))
        _check(into, made, lambda path: answers_from(path, needed=False))
        write_atomically(into, made.encode())
        return told, [], []
    changes = changes_of(load_aeroplane(into), found)
    made, told = rewritten(read_text(into), changes)
    _check(into, made, load_aeroplane)
    write_atomically(into, made.encode())
    return told, changes.doubts, changes.told


def _check(into: Path, made: str, reader: Callable[[Path], object]) -> None:
    """Refuse a text that its reader does not take, before anything is written over the old one."""
    handle, name = tempfile.mkstemp(dir=into.parent, suffix=".toml")  # beside what it may name
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(made)
        reader(Path(name))
    except FileFault as fault:
        raise FileFault(into.name, fault.faults) from None
    finally:
        Path(name).unlink()
