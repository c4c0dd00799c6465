"""Which questions answers so far ask for, and which answers nothing asks for."""

from collections.abc import Iterator, Mapping

from sim.start.asking.question import (
    DELTA,
    DRIVEN_BY,
    FAN,
    JETS,
    PACKS,
    PROPELLER,
    Answer,
    Question,
)
from sim.start.asking.questions import QUESTIONS

MORE_DOWN = "elevator_more_down_deg"


def driver(answers: Mapping[str, Answer]) -> str:
    """Return what drives it, fan or propeller; nothing of a delta of which it is not known.

    Of one that does not say, what else is told of it does.
    """
    kind = answers.get("kind")
    if kind not in DELTA:
        return FAN if kind in JETS else PROPELLER
    said = answers.get(DRIVEN_BY)
    if isinstance(said, str):
        return said
    told = [x for x, key in ((FAN, "fan_mm"), (PROPELLER, "propeller_in")) if key in answers]
    return told[0] if len(told) == 1 else ""


def asked(question: Question, answers: Mapping[str, Answer]) -> bool:
    """Return True if a question has to be asked, given what was answered before."""
    if question.key == "kind":
        return True
    if answers.get("kind") not in question.kinds:
        return False
    if question.drive and question.drive != driver(answers):
        return False
    if question.key == "pack_in_it":
        packs = answers.get(PACKS, ())
        return isinstance(packs, tuple) and len(packs) > 1
    if question.needs is None:
        return True
    key, values = question.needs
    return key in answers and (not values or answers[key] in values)


def questions_for(answers: Mapping[str, Answer]) -> list[Question]:
    """Return the questions that these answers ask for, in order."""
    return [question for question in QUESTIONS if asked(question, answers)]


def unasked(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Yield the key of each answer that nothing asks for, so that it is not used, and why."""
    used = {question.key for question in questions_for(answers)}
    for key in answers:
        of_key = [question for question in QUESTIONS if question.key == key]
        if key in used or not of_key:
            continue
        mine = [question for question in of_key if answers.get("kind") in question.kinds]
        if not mine:
            why = " (its elevons go down in proportion)" if key == MORE_DOWN else ""
            yield key, f"is not asked of kind {answers.get('kind')!r}{why}"
        elif mine[0].drive and mine[0].drive != driver(answers):
            yield key, f"is asked only of what a {mine[0].drive} drives"
        elif mine[0].needs is not None:
            other, values = mine[0].needs
            yield key, f"is asked only where {other} is {' or '.join(values) or 'given'}"
        else:
            yield key, "is asked only where there are two packs or more"
