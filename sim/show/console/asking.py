"""Questions put to a newcomer, one after the other; what is typed is kept at once."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import get_args

from sim import tables
from sim.describe.edge_throws import edge_mm
from sim.describe.known import Kind
from sim.start.asking.answers import SURE
from sim.start.asking.asked import questions_for
from sim.start.asking.drawings import drawing_for
from sim.start.asking.held import slips_of
from sim.start.asking.question import PACKS, Answer, Question
from sim.start.asking.questions import QUESTIONS
from sim.start.asking.relations import broken
from sim.start.asking.typed import (
    MOST_PACKS,
    TORQUE,
    NeedsWidth,
    Refused,
    is_length,
    listed,
    read_answer,
    unit_of,
    with_rule,
)
from sim.start.controls import THROWS, arm_mm
from sim.units.quantities import HEIGHT, LENGTH, MASS, SPEED, Quantity
from sim.weigh.slips import Slip, slip_words, swapped_with

HELP = """
Type a number; a unit may follow (57.5 cm, 22.6 in); 'cm' alone takes all lengths from there on in
centimetres ('mm' and 'in' likewise). Enter alone leaves out what may be left out, 'back' takes the
last answer back, '?' shows the drawing again, 'stop' ends: all is kept, and the same command goes
on from there.
"""
RULES = ("mm", "cm", "in")
UNITS: dict[str, Quantity] = {"mm": LENGTH, "g": MASS, "m": HEIGHT, "mps": SPEED}


class Stopped(Exception):  # noqa: N818 - what happened, not a fault
    """The pilot stops here and goes on another day."""


@dataclass
class Conversation:
    """Answers so far, and how to read, say and keep.

    ``read`` returns a line for a prompt and raises EOFError at the end; ``keep`` is called after
    every answer.
    """

    answers: dict[str, Answer]
    blank: list[str]
    read: Callable[[str], str]
    say: Callable[[str], None]
    keep: Callable[[], None]
    rule: str = ""  # the unit of lengths without one; else that of the run
    ahead: str = ""  # typed already, in place of saying whether a doubtful answer stands
    least: int = 1 << 30  # questions to go, as last told
    order: list[str] = field(default_factory=list)
    kept: set[tuple[str, float]] = field(default_factory=set)

    def ask_all(self) -> int:
        """Ask until nothing is left; return how many questions were put.

        Raises
        ------
        Stopped
            The pilot stops, or there is no more input.
        """
        self.say(HELP)
        drawn, count = False, 0
        while (question := self._next()) is not None:
            if not drawn and question.key != "kind":
                self.say(drawing_for(str(self.answers["kind"])))
                drawn = True
            count += 1
            self._ask(question)
            self.keep()
        return count

    def _left(self) -> list[Question]:
        known = {*self.answers, *self.blank}
        return [q for q in questions_for(self.answers) if q.key not in known]

    def _next(self) -> Question | None:
        left = self._left()
        return left[0] if left else None

    def _ask(self, question: Question) -> None:
        told = f"\n{question.ask}{self._unit(question)}"
        if self.answers:
            # an answer may ask for more: the number stands still until it has come down to it
            self.least = min(self.least, len(self._left()))
            told += f"   [about {self.least} to go]"
        if question.ruler:
            told += f"\n    {question.ruler}"
        packs = self.answers.get(PACKS)
        if question.key == "pack_in_it" and isinstance(packs, tuple):
            told += f"; {len(packs)} packs: {listed(packs)}"
        if question.choices and not question.choices[0].isdigit():
            told += "".join(f"\n    {i}  {x}" for i, x in enumerate(_offered(question), 1))
        if question.blank:
            told += f"\n    Enter: {question.blank}"
        self.say(told)
        while True:
            typed, self.ahead = self.ahead, ""
            if not typed:
                typed = self._packs() if question.key == PACKS else self._typed("> ")
            if typed == "back":
                self._back()
                return
            if not typed:
                if question.optional:
                    self._leave(question)
                    return
                self.say("  needs an answer; 'stop' keeps what there is and ends")
                continue
            if typed in RULES:
                self.rule = typed
                self.say(f"  lengths are in {typed} from here on")
                continue
            if self.rule:
                typed = with_rule(question, typed, self.rule)
            try:
                value = read_answer(question, typed, self.answers)
            except NeedsWidth as needs:
                self.say(f"  {needs}")
                self._ask_first(needs.key)
                self.ahead = typed if needs.key in self.answers else ""
                continue
            except Refused as refused:
                self.say(f"  {refused}")
                continue
            if question.key in THROWS and isinstance(value, float):
                self.say(f"  {_throw_words(question.key, typed, value, self.answers)}")
            if self._believed(question, value):
                return

    def _ask_first(self, key: str) -> None:
        """Ask what another answer needs, also where it was left blank."""
        if key in self.blank:
            self.blank.remove(key)
        self._ask(next(q for q in QUESTIONS if q.key == key))

    def _typed(self, prompt: str) -> str:
        try:
            typed = self.read(prompt).strip()
        except (EOFError, KeyboardInterrupt):
            raise Stopped from None
        if typed == "stop":
            raise Stopped
        if typed == "?":
            self.say(drawing_for(str(self.answers.get("kind", ""))) + HELP)
            return self._typed(prompt)
        return typed

    def _packs(self) -> str:
        """Return packs typed one a line, as one text; or a word."""
        lines: list[str] = []
        while len(lines) < MOST_PACKS:
            typed = self._typed(f"pack {len(lines) + 1}{', Enter: no more' if lines else ''}> ")
            if typed == "back" or not typed:
                return typed if not lines else ";".join(lines)
            try:
                read_answer(Question(PACKS, "", ""), typed)
            except Refused as refused:
                self.say(f"  {refused}")
                continue
            lines += [line for line in typed.split(";") if line.strip()]
        return ";".join(lines)

    def _unit(self, question: Question) -> str:
        """Return what a bare number is taken to be in, of several in a line each."""
        if question.parts:
            units = [self._unit(part).strip(", ") or part.ask for part in question.parts]
            return ", " + " and ".join(dict.fromkeys(units))
        unit, suffix = unit_of(question.key), question.key.rpartition("_")[2]
        if question.key == TORQUE:
            return ""
        if unit is None:
            return ", degrees" if suffix == "deg" and question.key not in THROWS else ""
        if suffix == "mm" and self.rule:
            return f", {self.rule}"
        return f", {UNITS[suffix]}" if suffix in UNITS else f", {unit.symbol}"

    def _leave(self, question: Question) -> None:
        self.blank.append(question.key)
        self.order.append(question.key)

    def _back(self) -> None:
        if not self.order:
            self.say("  this is the first")
            return
        last = self.order.pop()
        self.answers.pop(last, None)
        if last in _sure(self.answers):
            self.answers[SURE] = tuple(x for x in _sure(self.answers) if x != last)
        if last in self.blank:
            self.blank.remove(last)

    def _believed(self, question: Question, value: Answer) -> bool:
        """Take an answer, after asking once more where it looks like a slip."""
        now = {**self.answers, question.key: value}
        for key, text in broken(now):
            self.say(f"  {key}: {text}")
            if key == question.key:
                return False
        for slip in slips_of(now, [question.key]):
            if (slip.name, slip.shown) in self.kept:
                continue
            self.say(f"  Doubtful: {slip_words(slip, _told)}.")
            known = slip.meant is not None and slip.key in now
            offer = f", y takes {_told(slip.key, slip.meant)}" if slip.meant and known else ""
            typed = self._typed(
                f"  Enter keeps {_told(slip.key, slip.shown)}{offer}, or type it again> "
            )
            if not typed:
                self.kept.add((slip.name, slip.shown))
                if slip.key in now:
                    now[SURE] = (*_sure(now), slip.key)
            elif known and typed.lower().startswith("y"):
                now |= _meant(slip, now)
            else:
                self.ahead = "" if typed.lower() == "r" else typed
                return False
        self.answers |= now
        self.order.append(question.key)
        return True


def _sure(answers: dict[str, Answer]) -> tuple[str, ...]:
    """Return the answers that looked like slips and are meant as they are."""
    sure = answers.get(SURE, ())
    return sure if isinstance(sure, tuple) else ()


def _throw_words(key: str, typed: str, deg: float, answers: dict[str, Answer]) -> str:
    """Return how a throw was read, and how much it is in the unit that was not typed."""
    arm = arm_mm(key, answers)
    travel = "" if arm is None else f"{LENGTH(edge_mm(arm, deg), '.1f')} at the trailing edge"
    if is_length(typed):
        return f"that is {deg:.1f} degrees"
    if typed[-1:].isdigit():
        unit, also = LENGTH.suffix, f": {travel}" if travel else ""
        return (
            f"read as {deg:g} degrees, as no unit was typed{also} (type {typed} {unit} for {unit})"
        )
    return f"that is {travel}" if travel else f"{deg:g} degrees"


def _told(key: str, value: float) -> str:
    """Return a number of an answer, a length or a weight in the units of the run."""
    suffix = key.rpartition("_")[2]
    return UNITS[suffix](value, "g") if suffix in UNITS else f"{value:g}"


def _meant(slip: Slip, answers: dict[str, Answer]) -> dict[str, Answer]:
    """Return the answers that a slip likely meant; of two swapped, both."""
    if slip.meant is None:
        return {}
    meant: dict[str, Answer] = {slip.key: slip.meant}
    for other in swapped_with(slip.key):
        if answers.get(other) == slip.meant:
            meant[other] = slip.shown
            break
    return meant


def _offered(question: Question) -> list[str]:
    """Return the choices as a reader has them: kinds by their titles, numbers not twice."""
    if question.key == "kind":
        return [tables.kinds().kinds[kind].title for kind in get_args(Kind)]
    return list(question.choices)
