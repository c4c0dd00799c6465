"""What nobody measured of an aeroplane, as a part of records."""

from collections.abc import Sequence
from typing import Annotated

from sim.pack.unknowns import Effect, Unknown
from sim.record.fields import Many, Number, Record, said


class EffectRow(Record):
    """How far a quantity is open either way: two standard deviations, in ``unit``."""

    what: Annotated[str, said("the quantity")]
    unit: Annotated[str, said("g, mm or %")]
    now: Annotated[float, Number("as unit says", 3, "as it is")]
    then: Annotated[float, Number("as unit says", 3, "once measured")]


class UnknownRow(Record):
    """Something that nobody measured; what it does to the aft limit only a study tells."""

    name: Annotated[str, said("of measuring.toml")]
    text: Annotated[str, said("what")]
    measure: Annotated[str, said("how to measure it")]
    keys: Annotated[Many[str], said("of the aeroplane's file that become known")]
    effects: Annotated[Many[EffectRow], said("what weighing shows of it; may be empty")]


def unknown_rows(found: Sequence[Unknown]) -> list[UnknownRow]:
    """Return a row for each thing that nobody measured, in order."""
    return [
        UnknownRow(
            name=x.measurement.name,
            text=x.measurement.text,
            measure=x.measurement.measure,
            keys=x.measurement.keys,
            effects=[_effect(one) for one in x.effects],
        )
        for x in found
    ]


def _effect(one: Effect) -> EffectRow:
    return EffectRow(what=one.what, unit=one.unit, now=one.now, then=one.then)
