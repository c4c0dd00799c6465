"""What nobody measured of an aeroplane, in a pilot's words."""

from collections.abc import Sequence

from sim.pack.unknowns import Effect, Unknown
from sim.units.quantities import LENGTH, MASS


def unknown_rows(found: Sequence[Unknown]) -> list[tuple[str, str, str]]:
    """Return, of what nobody measured, how to measure it and what it leaves open till then."""
    return [
        (x.measurement.text, x.measurement.measure, "\n".join(_effect(e) for e in x.effects))
        for x in found
        if x.effects
    ]


def _effect(effect: Effect) -> str:
    """Return "pitch inertia ±29 %, then ±7 %"."""
    quantity = {"g": MASS, "mm": LENGTH}.get(effect.unit)
    now, then = (
        f"{x:.0f} %" if quantity is None else quantity(x, ".1f") for x in (effect.now, effect.then)
    )
    return f"{effect.what} ±{now}, then ±{then}"


def unknown_sentences(found: Sequence[Unknown]) -> list[str]:
    """Return what weighing cannot tell of what was not measured, or that all was."""
    study = "a study's report says what measuring would change of the aft limit"
    if not found:
        return [f"Everything in the file counts as measured, with the usual error; {study}."]
    others = [f"{x.measurement.text} ({x.measurement.measure})" for x in found if not x.effects]
    out = ["±: two standard deviations, as drawn in flights, and once measured so."]
    if others:
        out.append(f"Assumed too, of which weighing shows nothing: {'; '.join(others)}.")
    return [*out, f"These are by what weighing shows; {study}."]
