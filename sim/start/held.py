"""Answers held against each other: what looks like a slip, as soon as it is typed."""

from collections.abc import Iterable, Mapping
from typing import cast

from sim.describe.known import Kind
from sim.start.driving import INCH_MM, packs_told
from sim.start.questions import PACKS, Answer
from sim.weigh.slips import Fact, Slip, find_slips


def facts_of_answers(answers: Mapping[str, Answer]) -> dict[str, Fact]:
    """Return the facts that answers hold so far, by the names that checks use."""
    facts = {
        key: Fact(value, key, value) for key, value in answers.items() if isinstance(value, float)
    }
    for plane, width in (("wing", "middle_width_mm"), ("tail", "end_width_mm")):
        if width in facts:
            facts[f"{plane}_inner_mm"] = Fact(0.5 * facts[width].value, width, facts[width].shown)
    if "nose_ahead_mm" in facts:
        facts["datum_behind_nose_mm"] = facts["nose_ahead_mm"]
    if "fan_mm" in facts:
        facts["diameter_mm"] = facts["fan_mm"]
    if "propeller_in" in facts:
        inches = facts["propeller_in"]
        facts["diameter_mm"] = Fact(INCH_MM * inches.value, inches.key, inches.shown)
    lines = answers.get(PACKS)
    for i, pack in enumerate(packs_told(lines) if isinstance(lines, tuple) else [], 1):
        key = f"{PACKS}, {pack.name}"
        facts[f"pack_{i}_cells"] = Fact(float(pack.cells), key, float(pack.cells))
        facts[f"pack_{i}_mah"] = Fact(float(pack.capacity_mah), key, float(pack.capacity_mah))
        facts[f"pack_{i}_g"] = Fact(pack.mass_g, key, pack.mass_g)
    return facts


def slips_of(answers: Mapping[str, Answer], suspects: Iterable[str] = ()) -> list[Slip]:
    """Return what looks like a slip among answers; those just typed are suspected first."""
    kind = answers.get("kind")
    if not isinstance(kind, str):
        return []
    names = {"fan_mm": "diameter_mm", "propeller_in": "diameter_mm"}
    first = [names.get(key, key) for key in suspects]
    return find_slips(facts_of_answers(answers), (cast(Kind, kind),), first)
