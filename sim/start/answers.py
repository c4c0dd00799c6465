"""Answers: read as typed or from a file, held against bounds, kept whole at every step."""

import re
from collections.abc import Iterable, Mapping
from pathlib import Path

from sim.describe.faults import Fault, FileFault, nearest
from sim.describe.quantity import Between
from sim.describe.reading.files import parse
from sim.start.questions import KEYS, PACKS, QUESTIONS, Answer, Question, questions_for
from sim.start.relations import broken
from sim.units.factors import UNITS, Unit, split, suffixes
from sim.units.quantities import LENGTH, MASS

SCHEMA = "aftlimit.answers/1"
BLANK = "left_blank"
MOST_PACKS = 8
TYPED = re.compile(r"([-+]?\d*[.,]?\d+)\s*([^\d\s]*)")
USUAL = {"mm": LENGTH, "g": MASS}  # what a bare number is typed in, in the units of the run
PACK = re.compile(r"(\d+)\s*s?\s+(\d+)(?:\s*mah)?(?:\s+(\S+(?:\s*\S+)?))?", re.IGNORECASE)


class Refused(ValueError):  # noqa: N818 - told as it stands
    """An answer that cannot be; ``str`` says what is allowed."""


def unit_of(key: str) -> Unit | None:
    """Return the unit that a key ends in; None of an angle, a Kv, a choice."""
    parts = split(key)
    return None if parts is None or key.endswith(("_per_v", "_a")) else parts[1]


def read_answer(question: Question, text: str) -> Answer:
    """Return what was typed, in the unit of its key.

    A number may have a unit, ``22.6in``; without one it is in the units of the run.

    Raises
    ------
    Refused
        It is no number, choice or pack, or out of bounds.
    """
    text = text.strip()
    if question.choices:
        return _choice(question, text)
    if question.key == PACKS:
        return tuple(_pack(line) for line in text.split(";") if line.strip())
    return _number(question, text, _bare_unit(question.key))


def _bare_unit(key: str) -> Unit | None:
    unit, suffix = unit_of(key), key.rpartition("_")[2]
    return USUAL[suffix].unit if unit is not None and suffix in USUAL else unit


def _choice(question: Question, text: str) -> str:
    if text.isdigit() and 1 <= int(text) <= len(question.choices) and text not in question.choices:
        return question.choices[int(text) - 1]
    lowered = text.lower().replace(" ", "_")
    begins = [choice for choice in question.choices if lowered and choice.startswith(lowered)]
    if lowered in question.choices:
        return lowered
    if len(begins) == 1:
        return begins[0]
    raise Refused(f"must be one of {', '.join(question.choices)}; got {text!r}")


def _number(question: Question, text: str, bare: Unit | None) -> float:
    match = TYPED.fullmatch(text)
    if match is None:
        raise Refused(f"must be a number, with a unit if you like (57.5 cm); got {text!r}")
    value, said = float(match[1].replace(",", ".")), match[2].lower().rstrip(".")
    known = unit_of(question.key)
    if known is None:
        if said.strip("°dega"):
            raise Refused(f"must be a plain number; got {text!r}")
        unit = known
    else:
        said = {'"': "in", "inch": "in", "inches": "in", "grams": "g"}.get(said, said)
        unit = bare if not said else UNITS.get(said)
        if unit is None or unit.kind != known.kind:
            allowed = ", ".join(suffixes(known.kind))
            raise Refused(f"must be in one of {allowed}; got {text!r}")
        value = float(f"{unit.to(known, value):.6g}")
    bounds = Between(question.low, question.high, known.symbol if known else "")
    if not question.low <= value <= question.high:
        raise Refused(f"must be {bounds}; got {value:g}")
    return value


def _pack(line: str) -> str:
    """Return a pack as it is kept: ``6s 4000 640``, the weight [g] left out if not known."""
    match = PACK.fullmatch(line.strip())
    if match is None:
        text = "a pack is cells, mAh and weight in it, such as 6 4000 640; got "
        raise Refused(f"{text}{line.strip()!r}")
    cells, mah = int(match[1]), int(match[2])
    if not 1 <= cells <= 14 or not 100 <= mah <= 20000:
        raise Refused(f"a pack has 1 to 14 cells and 100 to 20000 mAh; got {line.strip()!r}")
    if match[3] is None:
        return f"{cells}s {mah}"
    scales = Question("pack_g", "", "", 5, 6000)
    return f"{cells}s {mah} {_number(scales, match[3], MASS.unit):g}"


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
    kind = raw.get("kind")
    for key, value in raw.items():
        question = _question(key, kind)
        if question is None:
            near = nearest(key, KEYS)
            mend = f"; did you mean {near!r}?" if near else " that start asks"
            faults.append(Fault(key, f"is no question{mend}"))
            continue
        try:
            answers[question.key] = _held(question, key, value)
        except Refused as refused:
            faults.append(Fault(key, str(refused)))
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


def _question(key: str, kind: object) -> Question | None:
    """Return the question of a key, also in another unit; the kind's own where there are two."""
    parts = split(key)
    names = {key}
    if parts is not None:
        names |= {f"{parts[0]}_{suffix}" for suffix in suffixes(parts[1].kind)}
    found = [question for question in QUESTIONS if question.key in names]
    return next((q for q in found if kind in q.kinds), found[0] if found else None)


def _held(question: Question, key: str, value: object) -> Answer:
    if question.key == PACKS:
        if not isinstance(value, list) or not value or not all(isinstance(x, str) for x in value):
            raise Refused('must be a list of texts such as ["6 4000 640"]')
        if len(value) > MOST_PACKS:
            raise Refused(f"must be at most {MOST_PACKS} packs; got {len(value)}")
        return tuple(_pack(line) for line in value)
    if question.choices:
        return _choice(question, str(value))
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise Refused(f"must be a number; got {value!r}")
    unit = unit_of(key) if unit_of(question.key) is not None else None
    return _number(question, str(value), unit)


def answers_text(name: str, answers: Mapping[str, Answer], blank: Iterable[str]) -> str:
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
    left = [key for key in blank if key not in answers]
    if left:
        lines += ["", f"{BLANK} = {_toml(tuple(left))}"]
    return "\n".join(lines) + "\n"


def _toml(value: Answer) -> str:
    if isinstance(value, tuple):
        return "[" + ", ".join(f'"{item}"' for item in value) + "]"
    return f'"{value}"' if isinstance(value, str) else f"{value:g}"
