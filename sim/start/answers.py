"""Answers: read as typed or from a file, held against bounds, kept whole at every step."""

import re
from collections.abc import Iterable, Mapping
from pathlib import Path

from sim.describe.edge_throws import angle_deg
from sim.describe.faults import Fault, FileFault, nearest
from sim.describe.quantity import Between
from sim.describe.reading.files import parse
from sim.start.asked import driver, questions_for
from sim.start.controls import THROWS, arm_key, arm_mm
from sim.start.questions import DELTA, DRIVEN_BY, KEYS, PACKS, QUESTIONS, Answer, Question
from sim.start.relations import broken
from sim.units.factors import UNITS, Unit, split, suffixes
from sim.units.quantities import HEIGHT, LENGTH, MASS

SCHEMA = "aftlimit.answers/1"
Answers = Mapping[str, Answer]
NONE: Answers = {}
PACK_IN_IT = "pack_in_it"
TORQUE = "servo_torque_ncm"
BLANK = "left_blank"
SURE = "sure_of"  # doubtful answers that are meant as they are
MOST_PACKS = 8
PACK_WEIGHT, PACK_LENGTH = Question("pack_g", "", "", 5, 6000), Question("pack_mm", "", "", 20, 500)
MM = UNITS["mm"]
MOST_TRAVEL = 0.95  # of the distance to the hinge: the sine of 72 degrees
TYPED = re.compile(r"([-+]?\d*[.,]?\d+)\s*(\D*)")
SAID = {'"': "in", "inch": "in", "inches": "in", "grams": "g", "kgfcm": "kgcm"}
# what a bare number is typed in, in the units of the run
USUAL = {"mm": LENGTH, "g": MASS, "m": HEIGHT}
PACK = re.compile(  # 6 4000, 6s 4000, 6s4000, 6S1P/4000mAh, each with a weight and a length
    r"(\d+)(?:\s*s(?:1p)?[\s/_-]*|\s+)(\d+)(?:\s*mah)?((?:\s+[\d.,]+\s*[a-z\"]*){0,2})",
    re.IGNORECASE,
)
SIZE = re.compile(r"[\d.,]+\s*[a-z\"]*", re.IGNORECASE)


class Refused(ValueError):  # noqa: N818 - told as it stands
    """An answer that cannot be; ``str`` says what is allowed."""


class NeedsWidth(Refused):
    """A throw in mm whose control has no width yet; ``key`` asks for it."""

    def __init__(self, throw: str, key: str) -> None:
        """Say it of a throw, and the key that asks for its width."""
        super().__init__(f"in mm needs {key}, or give {throw} in degrees")
        self.key = key


def unit_of(key: str) -> Unit | None:
    """Return the unit that a key ends in; None of an angle, a Kv, a choice."""
    parts = split(key)
    return None if parts is None or key.endswith(("_per_v", "_a")) else parts[1]


def read_answer(question: Question, text: str, answers: Answers = NONE) -> Answer:
    """Return what was typed, in the unit of its key.

    A number may have a unit, ``22.6in``; without one it is in the units of the run. Throws are in
    degrees, or in mm with the widths among ``answers``; packs go by their number or capacity.

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
    if question.key == PACK_IN_IT:
        return _pack_in_it(question, text, answers)
    if question.key == TORQUE and text[-1:].isdigit():
        raise Refused(f"needs its unit: {text} kg cm, {text} N cm or {text} oz in")
    return _number(question, text, _bare_unit(question.key), answers)


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


def _pack_in_it(question: Question, text: str, answers: Answers) -> float:
    """Return the number of a pack that goes by its number, its capacity or its name."""
    packs = answers.get(PACKS)
    if not isinstance(packs, tuple):
        return _number(question, text, None)
    if text.removesuffix(".0") in map(str, range(1, len(packs) + 1)):
        return float(text)
    said = text.lower().replace("_", " ").removesuffix("mah").split()
    found = [
        i for i, pack in enumerate(packs, 1)
        if said and (said == pack.split()[: len(said)] or said == pack.split()[1:2])
    ]  # fmt: skip
    if len(found) == 1:
        return float(found[0])
    raise Refused(
        f"must be the number of one of the {len(packs)} packs: {listed(packs)}; got {text!r}"
    )


def listed(packs: Iterable[str]) -> str:
    """Return packs with the numbers they go by."""
    return ", ".join(f"{i} = {' '.join(x.split()[:2])} mAh" for i, x in enumerate(packs, 1))


def _travel(question: Question, mm: float, answers: Answers) -> float:
    """Return a throw [degrees] from the travel of its trailing edge [mm]."""
    arm = arm_mm(question.key, answers)
    if arm is None:
        raise NeedsWidth(question.key, arm_key(question.key, answers))
    if not 0.0 < mm < MOST_TRAVEL * arm:
        text = f"{arm:g} mm from hinge or pivot it is less"
        raise Refused(f"must be a travel that its width allows: {text}; got {mm:.4g} mm")
    return float(f"{angle_deg(mm, arm):.4g}")


def _number(question: Question, text: str, bare: Unit | None, answers: Answers = NONE) -> float:
    match = TYPED.fullmatch(text)
    if match is None:
        raise Refused(f"must be a number, with a unit if you like (57.5 cm); got {text!r}")
    value, said = float(match[1].replace(",", ".")), re.sub(r"[\s.*·-]", "", match[2].lower())
    said = SAID.get(said, said)
    known = unit_of(question.key)
    travel = UNITS.get(said) if said else bare
    if question.key in THROWS and travel is not None and travel.kind == MM.kind:
        value = _travel(question, travel.to(MM, value), answers)
    elif known is None:
        if said.strip("°dega"):
            raise Refused(f"must be a plain number; got {text!r}")
    else:
        unit = bare if not said else UNITS.get(said)
        if unit is None or unit.kind != known.kind:
            allowed = ", ".join(suffixes(known.kind))
            raise Refused(f"must be in one of {allowed}; got {text!r}")
        value = float(f"{unit.to(known, value):.6g}")
    bounds = Between(question.low, question.high, known.symbol if known else "")
    if not question.low <= value <= question.high:
        raise Refused(f"must be {bounds}; got {_got(match[1], travel, known, value)}")
    return value


def _got(typed: str, unit: Unit | None, known: Unit | None, value: float) -> str:
    """Return a number as it was typed, and as it is taken where that is another."""
    if known is None or unit is None or unit == known:
        return f"{value:g}"
    return f"{typed} {unit.symbol}, {value:g} {known.symbol}"


def _pack(line: str) -> str:
    """Return a pack as it is kept: ``6s 4000 640 138mm``, weight [g] and length left out if so.

    The first of two bare numbers is the weight, one with a unit of length the length.
    """
    match = PACK.fullmatch(re.sub(r",\s+", " ", line.strip()))
    if match is None:
        text = (
            "a pack is cells, mAh, weight and length, a blank between, such as 6 4000 640 138; got "
        )
        raise Refused(f"{text}{line.strip()!r}")
    cells, mah = int(match[1]), int(match[2])
    if not 1 <= cells <= 14 or not 100 <= mah <= 20000:
        raise Refused(f"a pack has 1 to 14 cells and 100 to 20000 mAh; got {line.strip()!r}")
    kept = [f"{cells}s", f"{mah}"]
    sizes = [x.strip() for x in SIZE.findall(match[3])]
    named = [x for x in sizes if is_length(x)]
    lengths = named or sizes[1:]
    weights = [x for x in sizes if x not in lengths]
    if len(lengths) > 1:
        raise Refused(f"a pack has one length; got {line.strip()!r}")
    kept += [f"{_number(PACK_WEIGHT, x, MASS.unit):g}" for x in weights]
    kept += [f"{_number(PACK_LENGTH, x, LENGTH.unit):g}mm" for x in lengths]
    return " ".join(kept)


def is_length(text: str) -> bool:
    """Return whether a number has a unit of length."""
    said = text.lstrip("0123456789., ").lower()
    unit = UNITS.get(SAID.get(said, said))
    return unit is not None and unit.kind == MM.kind


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
            answers[question.key] = _held(question, key, value, answers)
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


def _held(question: Question, key: str, value: object, answers: Answers) -> Answer:
    if question.key == PACKS:
        if not isinstance(value, list) or not value or not all(isinstance(x, str) for x in value):
            raise Refused('must be a list of texts such as ["6 4000 640 138"]')
        if len(value) > MOST_PACKS:
            raise Refused(f"must be at most {MOST_PACKS} packs; got {len(value)}")
        return tuple(_pack(line) for line in value)
    if question.choices:
        return _choice(question, str(value))
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise Refused(f"must be a number; got {value!r}")
    if question.key == PACK_IN_IT:
        return _pack_in_it(question, str(value), answers)
    in_unit = unit_of(question.key) is not None or question.key in THROWS
    return _number(question, str(value), unit_of(key) if in_unit else None, answers)


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
