"""``aftlimit start``: a newcomer's measurements asked for, and made into an aeroplane file."""

import argparse
import re
import shlex
import sys
import time
import webbrowser
from functools import partial
from pathlib import Path

from sim.commands.exit_codes import DONE, INTERRUPTED
from sim.commands.outputs import check_folder
from sim.describe import Fault, FileFault, load_aeroplane
from sim.describe.reading.finding import data_folder
from sim.fly import warming
from sim.pack.assemble import Assembled, assemble, power_fit_of
from sim.power.bench_words import unmet_lines
from sim.show.console.asking import Conversation, Stopped
from sim.show.console.console import doubtful, paragraph, show
from sim.show.console.progress import Compiling
from sim.show.words.started import next_line, started_lines
from sim.start.asking.answers import SURE, answers_from, answers_text
from sim.start.asking.asked import unasked
from sim.start.asking.held import beyond_belief, slips_of
from sim.start.asking.question import Answer
from sim.start.asking.relations import answer_text
from sim.start.asking.template import template_text
from sim.start.filling import fill
from sim.start.shaping import rudder_doubts
from sim.start.writing import aeroplane_text
from sim.weigh import weigh_set_up
from sim.weigh.plausible import oddities
from sim.weigh.slips import slip_words
from sim.written import write_atomically

ANSWERS = "answers.toml"
WHEELED = ("nose", "tail")
SOON = "some seconds, and one to three minutes the first time on this machine"


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    if args.template is not None:
        return _template(Path(args.template))
    if args.name is None:
        raise ValueError("start: needs a name for your aeroplane, or --template FILE")
    folder = Path(args.name)
    name = folder.name
    _check_place(folder)
    path = folder / f"{name}.toml"
    if path.exists():
        text = "is there already; edit it, take another name, or remove it to write it anew"
        raise FileFault(str(path), [Fault("", text)])
    began, count = time.monotonic(), 0
    if args.answers is not None:
        answers, blank = answers_from(_found(args.answers))
        _demand_belief(_found(args.answers), answers)
        _keep(folder, name, answers, blank)
    else:
        answers, blank = _kept(folder)
        talk = Conversation(
            answers, blank, input, print, lambda: _keep(folder, name, answers, blank)
        )
        try:
            count = talk.ask_all()
        except Stopped:
            print(f"\n{_stopped(folder, args.name)}")
            return INTERRUPTED
    minutes = (time.monotonic() - began) / 60.0
    drawn = ", weighed and drawn" if args.sketch else " and weighed"
    print(f"{len(answers)} answers; {path} is being written{drawn}: {SOON}.", flush=True)
    with Compiling(warming.LEVEL_TRIM):
        stall = _write(path, name, answers).stall.speed_mps
    wheeled = answers.get("wheels") in WHEELED
    show(
        [
            paragraph(line)
            for line in started_lines(load_aeroplane(path), path, count, minutes, wheeled, stall)
        ]
    )
    show(doubtful(_doubts(path, answers)))
    show([paragraph(f"NOT USED: {key} {why}.") for key, why in unasked(answers)])
    picture = _sketch(path) if args.sketch else None
    show([next_line(path, picture)])
    return DONE


def _template(path: Path) -> int:
    """Write the questions as a file to be filled in."""
    if path.exists():
        raise FileFault(str(path), [Fault("", "is there already; take another name for it")])
    check_folder(path.parent, "start")
    write_atomically(path, template_text().encode())
    print(
        f"{path} has every question. Fill it in with any editor: take the # away before each "
        "answer that you give.\nThen, with a name of your own in place of my_plane:\n\n"
        f"    aftlimit start my_plane --from {shlex.quote(str(path))}"
    )
    return DONE


def _stopped(folder: Path, name: str) -> str:
    """Return where what was answered lies, if anything was."""
    if not (folder / ANSWERS).is_file():
        return f"Nothing was answered, and nothing is kept; 'aftlimit start {name}' begins again."
    return f"Kept in {folder / ANSWERS}; 'aftlimit start {name}' goes on from there."


def _check_place(folder: Path) -> None:
    """Refuse, before a question is asked, a name or a place that no file can have."""
    if not re.fullmatch(r"[A-Za-z0-9_\-]+", folder.name):
        text = "must be made of letters, digits, _ and - only, as it also names files; got "
        raise ValueError(f"start: the name {text}{folder.name!r}")
    check_folder(folder, "start")


def _found(text: str) -> Path:
    """Return the path of an answers file, or of a bundled one by its bare name."""
    path = Path(text)
    bundled = data_folder("scenarios") / "answers"
    if path.is_file() or not (bundled / f"{text}.toml").is_file():
        return path
    return bundled / f"{text}.toml"


def _kept(folder: Path) -> tuple[dict[str, Answer], list[str]]:
    """Return what was answered another day."""
    path = folder / ANSWERS
    if not path.is_file():
        return {}, []
    answers, blank = answers_from(path, needed=False)
    print(f"{path}: {len(answers)} answers are there; going on.")
    return answers, blank


def _demand_belief(path: Path, answers: dict[str, Answer]) -> None:
    """Refuse answers that make no aeroplane that flies, where the pilot does not say he is sure."""
    said = answers.get(SURE, ())
    sure = list(said) if isinstance(said, tuple) else []
    faults = []
    for key, text in beyond_belief(answers):
        if key not in sure:
            keys = ", ".join(f'"{x}"' for x in (*sure, key))
            mend = f"mend it; or, if it is so, write in the file  {SURE} = [{keys}]"
            faults.append(Fault(key, f"{text}. Nothing is written: {mend}"))
    if faults:
        raise FileFault(path.name, faults)


def _keep(folder: Path, name: str, answers: dict[str, Answer], blank: list[str]) -> None:
    write_atomically(folder / ANSWERS, answers_text(name, answers, blank).encode())


def _write(path: Path, name: str, answers: dict[str, Answer]) -> Assembled:
    """Write the aeroplane file, and return it packed; what cannot be one is not left there."""
    write_atomically(path, aeroplane_text(name, answers).encode())
    try:
        return assemble(load_aeroplane(path))
    except FileFault:
        path.unlink()
        raise


def _doubts(path: Path, answers: dict[str, Answer]) -> list[str]:
    """Return what is doubtful: answers that look like slips, and what weighing and power found."""
    aeroplane = load_aeroplane(path)
    slips = [slip_words(x, partial(answer_text, answers)) for x in slips_of(answers)]
    weighed = weigh_set_up(aeroplane)
    odd = [*weighed.doubts, *oddities(aeroplane, weighed, whole=not slips)]
    return [*slips, *rudder_doubts(fill(answers)), *odd, *unmet_lines(power_fit_of(aeroplane))]


def _sketch(path: Path) -> Path:
    """Draw it, return its picture, and open the picture where somebody sits before it."""
    from sim.commands.sketch import drawn, neutral_point  # matplotlib, only where it is asked for

    with Compiling(warming.LEVEL_TRIM):
        ready = assemble(load_aeroplane(path))
        neutral = neutral_point(ready)
    views, second = drawn(ready, neutral, path.with_suffix(".png"))
    print(f"{views}\n{second}")
    if sys.stdin.isatty() and sys.stdout.isatty():
        webbrowser.open(views.absolute().as_uri())
    return views
