"""Answers as they are typed: units, bounds, choices, packs, and several numbers in a line."""

import re
from collections.abc import Callable, Iterable, Mapping

from sim.describe.edge_throws import angle_deg
from sim.describe.quantity import Between
from sim.start.asking.question import PACKS, Answer, Question
from sim.start.controls import THROWS, arm_key, arm_mm
from sim.units.factors import UNITS, Unit, split, suffixes
from sim.units.quantities import HEIGHT, LENGTH, MASS, SPEED

Answers = Mapping[str, Answer]
Bare = Callable[[str], Unit | None]  # what a number without a unit is in, by its question's key
NONE: Answers = {}
PACK_IN_IT = "pack_in_it"
TORQUE = "servo_torque_ncm"
MOST_PACKS = 8
PACK_WEIGHT, PACK_LENGTH = Question("pack_g", "", "", 5, 6000), Question("pack_mm", "", "", 20, 500)
MM = UNITS["mm"]
MOST_TRAVEL = 0.95  # of the distance to the hinge: the sine of 72 degrees
TYPED = re.compile(r"([-+]?\d*[.,]?\d+)\s*(\D*)")
SAID = {'"': "in", "inch": "in", "inches": "in", "grams": "g", "kgfcm": "kgcm", "m/s": "mps",
        "km/h": "kmh", "kph": "kmh", "ft/s": "fts", "knots": "kt", "kn": "kt"}  # fmt: skip
# what a bare number is typed in, in the units of the run
USUAL = {"mm": LENGTH, "g": MASS, "m": HEIGHT, "mps": SPEED}
PACK = re.compile(  # 6 4000, 6s 4000, 6s4000, 6S1P/4000mAh, each with a weight and a length
    r"(\d+)(?:\s*s(?:1p)?[\s/_-]*|\s+)(\d+)(?:\s*mah)?((?:\s+[\d.,]+\s*[a-z\"]*){0,2})",
    re.IGNORECASE,
)
# of a line of several: a number, and the unit that follows it
ONE = re.compile(r"([-+]?\d*[.,]?\d+)\s*([^\d\s,;+-][^\d,;+-]*)?")
COUNTED = ("%", "mah", "min", "minutes")  # what may stand behind a number without a unit
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
    if question.key == TORQUE and text[-1:].isdigit():
        raise Refused(f"needs its unit: {text} kg cm, {text} N cm or {text} oz in")
    lines = text.split(";") if question.key == PACKS else ()
    return _read(question, text, lines, _bare_unit, answers)


def written_answer(question: Question, key: str, value: object, answers: Answers) -> Answer:
    """Return an answer as a file has it; ``key`` may end in another unit than the question's.

    Raises
    ------
    Refused
        As `read_answer`, or it is of no kind that an answer can be.
    """
    if question.key == PACKS:
        if not isinstance(value, list) or not value or not all(isinstance(x, str) for x in value):
            raise Refused('must be a list of texts such as ["6 4000 640 138"]')
        if len(value) > MOST_PACKS:
            raise Refused(f"must be at most {MOST_PACKS} packs; got {len(value)}")
        return _read(question, "", value, unit_of, answers)
    if question.parts and not isinstance(value, str):
        raise Refused(f"must be {_wanted(question)}, in quotes; got {value!r}")
    if question.choices:
        return _choice(question, str(value))
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise Refused(f"must be a number; got {value!r}")

    def bare(asked: str) -> Unit | None:
        if asked != question.key:
            return unit_of(asked)
        return unit_of(key) if unit_of(asked) is not None or asked in THROWS else None

    return _read(question, str(value), (), bare, answers)


def _read(
    question: Question, text: str, lines: Iterable[str], bare: Bare, answers: Answers
) -> Answer:
    if question.choices:
        return _choice(question, text)
    if question.key == PACKS:
        return tuple(_pack(line, bare) for line in lines if line.strip())
    if question.parts:
        return _line(question, text, bare)
    if question.key == PACK_IN_IT:
        return _pack_in_it(question, text, answers)
    return _number(question, text, bare(question.key), answers)


def _wanted(question: Question) -> str:
    """Return what a line takes: "weight [g] and place behind x [mm]"."""
    told = []
    for part in question.parts:
        unit = unit_of(part.key)
        told.append(part.ask if unit is None else f"{part.ask} [{unit.symbol}]")
    return " and ".join(told)


def _line(question: Question, text: str, bare: Bare) -> str:
    """Return several numbers of a line as they are kept, each with its unit."""
    found = list(ONE.finditer(text))
    odd = ONE.sub(" ", text).strip(" ,;")
    if odd or not question.least <= len(found) <= len(question.parts):
        raise Refused(f"must be {_wanted(question)}, a blank between; got {text!r}")
    kept = []
    for part, match in zip(question.parts, found, strict=False):
        counted = (match[2] or "").strip().lower() in COUNTED and unit_of(part.key) is None
        try:
            value = _number(part, match[1] if counted else match[0].strip(), bare(part.key))
        except Refused as refused:
            raise Refused(f"{part.ask} {refused}") from None
        unit = unit_of(part.key)
        kept.append(f"{value:g}" if unit is None else f"{value:g} {unit.symbol}")
    return ", ".join(kept)


def with_rule(question: Question, text: str, rule: str) -> str:
    """Return what was typed with the unit that all lengths are in, where it has none."""
    if question.key.endswith("_mm"):
        return f"{text} {rule}" if text[-1:].isdigit() else text
    units = iter(unit_of(part.key) for part in question.parts)

    def in_rule(match: re.Match[str]) -> str:
        unit = next(units, None)
        bare = unit is not None and unit.kind == MM.kind and match[2] is None
        return f"{match[0]} {rule}" if bare else match[0]

    return ONE.sub(in_rule, text)


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


def _pack(line: str, bare: Bare) -> str:
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
    kept += [f"{_number(PACK_WEIGHT, x, bare(PACK_WEIGHT.key)):g}" for x in weights]
    kept += [f"{_number(PACK_LENGTH, x, bare(PACK_LENGTH.key)):g}mm" for x in lengths]
    return " ".join(kept)


def is_length(text: str) -> bool:
    """Return whether a number has a unit of length."""
    said = text.lstrip("0123456789., ").lower()
    unit = UNITS.get(SAID.get(said, said))
    return unit is not None and unit.kind == MM.kind
