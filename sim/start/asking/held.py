"""Answers held against each other: what looks like a slip, as soon as it is typed."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import cast

from sim import tables
from sim.describe.known import Kind
from sim.start.asking.asked import driver, questions_for
from sim.start.asking.question import FAN, PACKS, PROPELLER, Answer
from sim.start.asking.relations import broken
from sim.start.driving import INCH_MM, packs_told
from sim.weigh.rough import static_margin_pct, wing_of
from sim.weigh.slips import WING, Fact, Slip, find_slips


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
    drive = driver(answers)
    if "fan_mm" in facts and drive == FAN:
        facts["diameter_mm"] = facts["fan_mm"]
    if "propeller_in" in facts and drive == PROPELLER:
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
    slips = find_slips(facts_of_answers(answers), (cast(Kind, kind),), first)
    return [x if _allowed(x, answers) else replace(x, meant=None) for x in slips]


def _allowed(slip: Slip, answers: Mapping[str, Answer]) -> bool:
    """Return whether what was likely meant would itself be taken as an answer."""
    question = next((x for x in questions_for(answers) if x.key == slip.key), None)
    if slip.meant is None or question is None:
        return True
    inside = question.low <= slip.meant <= question.high
    before, after = (dict(broken(x)) for x in (answers, {**answers, slip.key: slip.meant}))
    return inside and after.keys() <= before.keys() - {slip.key}


def beyond_belief(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Yield the key of each answer that makes no aeroplane that flies, and what was likely meant.

    Bands of plausible.toml, far wider than what is usual of a kind: weight over wing area [g/dm2],
    span over chord, length over span, balance point [% of the mean chord]; by definition. And the
    static margin that it gives by the rough rule of `sim.weigh.rough`.
    """
    v = {name: fact.value for name, fact in facts_of_answers(answers).items()}
    if not {*WING, "wing_tip_back_mm"} <= v.keys():
        return
    wing, usual = wing_of(v), tables.plausible()
    found: list[tuple[str, str, float, tuple[float, float]]] = [
        ("wing_span_mm", "an aspect ratio of {:.3g}", wing.aspect, usual.aspect_ratio),
    ]
    if "mass_g" in v:
        loading = v["mass_g"] / (wing.area / 1e4)
        found.append(("mass_g", "{:.3g} g/dm² of wing", loading, usual.wing_loading_g_dm2))
    if "body_length_mm" in v:
        slender = v["body_length_mm"] / v["wing_span_mm"]
        found.append(("body_length_mm", "{:.3g} spans of body", slender, usual.length_over_span))
    if "balance_back_mm" in v:
        place = 100.0 * (v["balance_back_mm"] - wing.edge) / wing.chord
        text = "a balance point at {:.0f} % of the wing's mean chord"
        found.append(("balance_back_mm", text, place, usual.balance_pct_mac))
        low, high = usual.balance_pct_mac
        if low <= place <= high and {"body_length_mm", "middle_width_mm"} <= v.keys():
            text = "a static margin of roughly {:.0f} % MAC"
            found.append(("balance_back_mm", text, static_margin_pct(v), usual.rough_margin_pct))
    slips = slips_of(answers)
    for key, text, value, (low, high) in found:
        if low <= value <= high:
            continue
        slip = next((x for x in slips if x.key == key), None)
        likely = "" if slip is None else f"; {slip.text}"
        if slip is not None and slip.meant is not None:
            likely += f" Likely meant {slip.meant:g}"
            if key == "balance_back_mm":
                likely += ", if that was from the front of the body as measured: measure it again"
        elif key == "balance_back_mm" and "nose_ahead_mm" in v:
            from_nose = v[key] - v["nose_ahead_mm"]
            likely += f" Was it measured from the nose? Then it is {from_nose:g} behind x"
        shown = f"{v[key]:g} gives {text.format(value)}, where no aeroplane flies: {low:g} to "
        yield key, f"{shown}{high:g} is the widest{likely}"
