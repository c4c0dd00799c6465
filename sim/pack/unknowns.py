"""What was not measured of an aeroplane, and what that leaves open of mass, balance and inertia.

How much of the aft limit it leaves open only flights tell: see `sim.study.measure`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

import numpy as np

from sim.describe import Aeroplane
from sim.describe.masses import Measured
from sim.pack.measurable import Measurement, Narrowed, measurements
from sim.weigh import Weighed

TWO_SDS = 2.0  # as draws are cut, and as the trade tells errors
BALANCE = {"balance_aft": "balance point", "balance_right": "balance sideways",
           "balance_up": "height of the balance point"}  # fmt: skip
SPREADS = ("spread_lengthwise", "spread_sideways", "spread_upwards")
INERTIAS = {"roll inertia": (1, 2), "pitch inertia": (0, 2), "yaw inertia": (0, 1)}  # by spreads


@dataclass(frozen=True)
class Effect:
    """How far a quantity is open either way, two standard deviations, now and once measured.

    ``unit`` is "g", "mm" or "%" (of it); ``per_cent`` how much less open it is then, of the mass,
    the mean chord or the inertia.
    """

    what: str
    unit: str
    now: float
    then: float
    per_cent: float


@dataclass(frozen=True)
class Unknown:
    """Something that nobody measured; ``effects`` are what weighing can tell of it, if anything."""

    measurement: Measurement
    effects: tuple[Effect, ...]

    @property
    def per_cent(self) -> float:
        """The most of its effects [%]."""
        return max((x.per_cent for x in self.effects), default=0.0)


def unknowns(
    aeroplane: Aeroplane, weighed: Weighed, said: Measured | None = None
) -> tuple[Unknown, ...]:
    """Return what nobody measured of an aeroplane, by how much it leaves open, the most first.

    ``said`` is ``[measured]`` of its file, as for `measurements`.

    Raises
    ------
    FileFault
        See `measurements`.
    """
    wishes = [x for x in measurements(aeroplane, said) if x.assumed]
    found = [Unknown(x, tuple(_effects(x, weighed))) for x in wishes]
    return tuple(sorted(found, key=lambda x: -x.per_cent))


def _effects(measurement: Measurement, weighed: Weighed) -> Iterator[Effect]:
    """Yield what a measurement narrows of mass [g], balance [mm] and inertia [%].

    By definition: a draw scales the mass, moves the balance point, or scales the second moment of
    the mass along one axis; independent ones add as squares.
    """
    narrowed = {x.draw: x for x in measurement.narrowed}
    grams, chord = 1000.0 * weighed.mass_kg, 1000.0 * weighed.reference.mean_chord_m
    if "mass" in narrowed:
        yield _effect("mass", "g", narrowed["mass"], grams, 100.0 / grams)
    for draw, what in BALANCE.items():
        if draw in narrowed:
            yield _effect(what, "mm", narrowed[draw], 1000.0, 100.0 / chord)
    yield from _inertias(narrowed, weighed)


def _effect(what: str, unit: str, one: Narrowed, size: float, per_cent: float) -> Effect:
    """Return an effect [g, mm] from a draw's deviations, by definition times its ``size``."""
    now, then = (TWO_SDS * size * sd for sd in (one.now, one.then))
    return Effect(what, unit, now, then, per_cent * (now - then))


def _inertias(narrowed: dict[str, Narrowed], weighed: Weighed) -> Iterator[Effect]:
    """Yield how far moments of inertia are open [%], by definition sums of second moments."""
    moments = np.diag(weighed.inertia_kg_m2)
    second = 0.5 * moments.sum() - moments  # of the mass along x, y and z [kg m2]
    for what, axes in INERTIAS.items():
        both = [(narrowed[SPREADS[i]], second[i]) for i in axes if SPREADS[i] in narrowed]
        if not both:
            continue
        whole = sum(second[i] for i in axes)
        now, then = (
            TWO_SDS * 100.0 * hypot(*(sd(x) * part / whole for x, part in both))
            for sd in (lambda x: x.now, lambda x: x.then)
        )
        yield Effect(what, "%", now, then, now - then)
