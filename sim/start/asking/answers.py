"""Answers in a file: read, held against each other, kept whole at every step."""

from collections.abc import Iterable
from pathlib import Path

from sim.describe.faults import Fault, FileFault, nearest
from sim.describe.reading.files import parse
from sim.start.asking.asked import driver, questions_for
from sim.start.asking.question import DELTA, DRIVEN_BY, Answer, Question
from sim.start.asking.questions import KEYS, QUESTIONS
from sim.start.asking.relations import broken
from sim.start.asking.typed import MM, PACK_IN_IT, Answers, Refused, written_answer
from sim.start.controls import THROWS
from sim.units.factors import split, suffixes

SCHEMA = "aftlimit.answers/1"
BLANK = "left_blank"
SURE = "sure_of"  # doubtful answers that are meant as they are


def answers_from(path: Path, needed: bool = True) -> tuple[dict[str, Answer], list[str]]:
    """Return the answers of a file, and the questions that it leaves blank on purpose.

    A key may be in another unit by its ending, ``wing_span_in``.

    Parameters
    ----------
    path : Path
    needed : bool
        Whether every question must have its answer; a file to be gone on with has not.

    Raises
    ------
    FileFault
        With everything that is wrong with it.
    """
    raw = dict(parse(path))
    said = raw.pop("schema", None)
    if said != SCHEMA:
        text = f"must be {SCHEMA!r}, as a file of answers has it; got {said!r}"
        raise FileFault(path.name, [Fault("schema", text)])
    faults: list[Fault] = []
    raw.pop("name", None)
    blank = [str(key) for key in raw.pop(BLANK, [])]
    answers: dict[str, Answer] = {}
    if (sure := raw.pop(SURE, None)) is not None:
        if not isinstance(sure, list) or not {str(key) for key in sure} <= KEYS:
            faults.append(Fault(SURE, 'must be a list of keys, such as ["balance_back_mm"]'))
        else:
            answers[SURE] = tuple(map(str, sure))
    kind = raw.get("kind")
    # what is held against other answers comes after them
    for key, value in sorted(raw.items(), key=lambda x: _reads_others(x[0])):
        question = _question(key, kind)
        if question is None:
            near = nearest(key, KEYS)
            mend = f"; did you mean {near!r}?" if near else " that start asks"
            if near in THROWS:
                mend = f"; did you mean {near!r}, or in mm {near.removesuffix('_deg') + '_mm'!r}?"
            faults.append(Fault(key, f"is no question{mend}"))
            continue
        try:
            answers[question.key] = written_answer(question, key, value, answers)
        except Refused as refused:
            faults.append(Fault(key, str(refused)))
    if answers.get("kind") in DELTA and (drive := driver(answers)):
        answers[DRIVEN_BY] = drive  # a file from before it was asked tells it by its other answers
    missing = [
        q for q in questions_for(answers)
        if q.key not in answers and not (q.optional or faults)
    ]  # fmt: skip
    if needed:
        faults += [Fault(q.key, f"is missing; {q.ask} ({q.ruler})") for q in missing]
    faults += [Fault(key, text) for key, text in broken(answers)]
    if faults:
        raise FileFault(path.name, faults)
    return answers, blank


def _reads_others(key: str) -> bool:
    return key == PACK_IN_IT or f"{key.rpartition('_')[0]}_deg" in THROWS


def _question(key: str, kind: object) -> Question | None:
    """Return the question of a key, also in another unit; the kind's own where there are two."""
    parts = split(key)
    names = {key}
    if parts is not None:
        names |= {f"{parts[0]}_{suffix}" for suffix in suffixes(parts[1].kind)}
        if parts[1].kind == MM.kind:
            names |= THROWS & {f"{parts[0]}_deg"}
    found = [question for question in QUESTIONS if question.key in names]
    return next((q for q in found if kind in q.kinds), found[0] if found else None)


def answers_text(name: str, answers: Answers, blank: Iterable[str]) -> str:
    """Return the answers as a file that can be read again, edited, and gone on with."""
    lines = [
        "# What was measured; edit it and run start again, or go on where it stopped.",
        f'schema = "{SCHEMA}"', f'name = "{name}"', "",
    ]  # fmt: skip
    for question in questions_for(answers):
        value = answers.get(question.key)
        if value is None:
            continue
        lines.append(f"# {question.ask}" + (f" ({question.ruler})" if question.ruler else ""))
        lines.append(f"{question.key} = {_toml(value)}")
    if isinstance(sure := answers.get(SURE), tuple) and sure:
        lines += ["", f"{SURE} = {_toml(sure)}"]
    left = [key for key in blank if key not in answers]
    if left:
        lines += ["", f"{BLANK} = {_toml(tuple(left))}"]
    return "\n".join(lines) + "\n"


def _toml(value: Answer) -> str:
    if isinstance(value, tuple):
        return "[" + ", ".join(f'"{item}"' for item in value) + "]"
    return f'"{value}"' if isinstance(value, str) else f"{value:g}"
