"""What measuring would change of an aft limit, reckoned from the flights of its search alone.

The draws' thresholds are taken as a line in what was drawn (`thresholds`). With something measured
that part of their spread is gone, and the balance points at which a share of draws is lost close in
on the middle of them all, each by the same factor: the root of what is left of the variance. That
moves the limit and both ends of its interval. It is what the aeroplane's file would give with the
values as they stand; where the measurement says otherwise, the limit moves with it.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import sqrt

import numpy as np

from sim import tables
from sim.core.draw_layout import DRAW_COLUMNS
from sim.describe import StudyFiles
from sim.fly.columns import Floats
from sim.pack.assemble import flown_spreads, power_fit_of
from sim.pack.measurable import Measurement, Narrowed, measurements
from sim.study.factors import LATERAL
from sim.study.flights.draws import Draws
from sim.study.limits.aft import narrowest
from sim.study.limits.search import or_forward
from sim.study.measure.thresholds import Thresholds, fit_thresholds
from sim.study.results.aft_limit import AftLimit, ManoeuvreLimit
from sim.study.results.measuring import Measuring, OwnShare, Promise
from sim.tables.models.uncertainty import Spread

TWO_SIDED_95 = 1.96
MOST_PROMISES, MOST_OWN = 5, 3
NOTHING = "nothing"  # what uncertainty.toml says to measure where nothing can be
TOGETHER = Measurement("together", "all that can be measured", "", True, (), ())


@dataclass(frozen=True)
class Share:
    """A share of the spread of thresholds, its 95 % limits, and whether chance would do as much."""

    value: float
    low: float
    high: float
    told: bool


@dataclass(frozen=True)
class Spreading:
    """What the thresholds of one manoeuvre's draws hang on, from its fit.

    ``squares`` (n,) are the slopes' squares less what noise adds to them, ``errors`` (n,) those of
    the squares and ``noise`` (n,) what noise alone would make of them [mm2]; ``moments`` (n,) the
    mean squares of the draws, ``whole`` the variance of all together [mm2].
    """

    thresholds: Thresholds
    column: Mapping[str, int]
    moments: Floats
    squares: Floats
    errors: Floats
    noise: Floats
    whole: float

    @staticmethod
    def of(thresholds: Thresholds, column: Mapping[str, int], normal: Floats) -> "Spreading":
        """Return it from a fit to draws ``normal`` (k, n); ``column`` by name of draw.

        Own: of an estimate b with error s, b2 - s2 is the square without bias and
        4 b2 s2 + 2 s4 its variance (moments of a normal).
        """
        moments: Floats = (normal**2).mean(axis=0)
        found, noise = thresholds.slopes_mm**2, thresholds.errors_mm**2
        squares = found - noise
        errors: Floats = np.sqrt(4.0 * found * noise + 2.0 * noise**2)
        whole = max(0.0, float(squares @ moments)) + thresholds.rest_mm2
        return Spreading(thresholds, column, moments, squares, errors, noise, whole)

    def share(self, gone: Mapping[str, float]) -> Share:
        """Return the share of the spread that goes with a part (0 to 1) of draws' variances."""
        part = np.zeros(len(self.squares))
        for name, value in gone.items():
            if name in self.column:
                part[self.column[name]] = value
        part = part * self.moments
        value = float(part @ self.squares)
        error = TWO_SIDED_95 * float(np.sqrt((part**2) @ (self.errors**2)))
        seen, chance = float(part @ (self.squares + self.noise)), float(part @ self.noise)
        told = chance > 0.0 and seen > tables.study().told_errors ** 2 * chance
        low, middle, high = (
            min(1.0, max(0.0, x / self.whole)) for x in (value - error, value, value + error)
        )
        return Share(middle, low, high, told)

    def moved(self, place_mm: float, share: float) -> float:
        """Return where as many draws are lost as at a place [mm], without a share of the spread."""
        middle = self.thresholds.middle_mm
        return middle + (place_mm - middle) * sqrt(1.0 - share)


def with_measuring(
    files: StudyFiles, limits: Sequence[AftLimit], draws: Draws
) -> tuple[AftLimit, ...]:
    """Return aft limits, each with what measuring would change of it."""
    wishes = measurements(power_fit_of(files.aeroplane).aeroplane, files.aeroplane.measured)
    spreads = tuple(x for x in flown_spreads(files.aeroplane) if x.sd)

    def normal(name: str, which: np.ndarray) -> Floats:
        towards = draws.sides if files.manoeuvres[name].sides == "both" else 1.0 + 0.0 * draws.sides
        return towards_entry(draws.normal[which], towards[which], spreads)

    def told(x: AftLimit) -> AftLimit:
        other = None if x.without is None else told(x.without)
        return replace(x, measuring=reckon(x, wishes, spreads, normal), without=other)

    return tuple(told(x) for x in limits)


def towards_entry(normal: Floats, sides: Floats, spreads: Sequence[Spread]) -> Floats:
    """Return the draws (k, n) of spreads; what pulls to one side counted towards the entry's."""
    columns = [DRAW_COLUMNS[x.name] for x in spreads]
    turned = [sides if column in LATERAL else np.ones_like(sides) for column in columns]
    return normal[:, columns] * np.column_stack(turned)


def reckon(
    limit: AftLimit,
    wishes: Sequence[Measurement],
    spreads: Sequence[Spread],
    normal: Callable[[str, np.ndarray], Floats],
) -> Measuring | None:
    """Return what measuring would change of an aft limit; None where none was found, or its end.

    Parameters
    ----------
    wishes : sequence of Measurement
        What can be measured.
    spreads : sequence of Spread
        What is drawn.
    normal : callable
        Returns, of a manoeuvre and draws (k,), what was drawn (k, n), a column a spread.
    """
    if limit.aft_mm is None or limit.at_end:
        return None
    column = {x.name: i for i, x in enumerate(spreads)}
    found = {x.manoeuvre: _spreading(x, column, normal) for x in limit.each}
    first = min(limit.each, key=lambda x: or_forward(x.aft_mm))
    telling, lost = found[first.manoeuvre], _lost(first)
    if telling is None:
        return Measuring(first.manoeuvre, (), None, None, None, None, None, (), lost)
    known = {name: x for name, x in found.items() if x is not None}
    promises = [_promise(limit, wish, known, telling) for wish in wishes]
    promises.sort(key=lambda x: -x.gain_mm)
    everything = replace(TOGETHER, narrowed=tuple(_narrowest_of(wishes).values()))
    together = _together(promises, _promise(limit, everything, known, telling))
    day = telling.share(dict.fromkeys(tables.measuring().of_the_day, 1.0)).value
    untraced = telling.thresholds.rest_mm2 / telling.whole
    least = tables.study().told_limit_mm
    seen = [x for x in promises if x.told and x.gain_mm >= least]
    return Measuring(
        manoeuvre=first.manoeuvre,
        promises=tuple(seen[:MOST_PROMISES]),
        nearest=next((x for x in promises if x.told), None),
        together=together,
        day_share=day,
        method_share=max(0.0, 1.0 - together.share - day - untraced),
        untraced_share=untraced,
        own=_own(telling, everything, spreads),
        lost=lost,
    )


def _lost(one: ManoeuvreLimit) -> int:
    """Return how many draws a manoeuvre lost somewhere."""
    return 0 if one.first_lost is None else int(np.isfinite(one.first_lost.high_mm).sum())


def _together(promises: Sequence[Promise], everything: Promise) -> Promise:
    """Return what measuring everything would give: no less than the best that stands out alone."""
    best = next((x for x in promises if x.told), everything)
    if best.gain_mm <= everything.gain_mm:
        return everything
    return replace(
        best, name=everything.name, text=everything.text, measure="", keys=(),
        share_high=max(best.share_high, everything.share_high),
        gain_high_mm=max(best.gain_high_mm, everything.gain_high_mm),
    )  # fmt: skip


def _spreading(
    one: ManoeuvreLimit, column: Mapping[str, int], normal: Callable[[str, np.ndarray], Floats]
) -> Spreading | None:
    """Return what the thresholds of one manoeuvre hang on; None where too few draws are lost."""
    lost = one.first_lost
    if lost is None or _lost(one) < tables.study().told_lost_draws:
        return None
    drawn = normal(one.manoeuvre, lost.which)
    return Spreading.of(fit_thresholds(lost.low_mm, lost.high_mm, drawn), column, drawn)


def _narrowest_of(wishes: Iterable[Measurement]) -> dict[str, Narrowed]:
    out: dict[str, Narrowed] = {}
    for one in (x for wish in wishes for x in wish.narrowed):
        if one.draw not in out or one.then < out[one.draw].then:
            out[one.draw] = one
    return out


def _gone(wish: Measurement) -> dict[str, float]:
    """Return which part of each draw's variance a measurement takes away."""
    return {x.draw: 1.0 - (x.then / x.now) ** 2 for x in wish.narrowed}


def _promise(
    limit: AftLimit, wish: Measurement, known: Mapping[str, Spreading], telling: Spreading
) -> Promise:
    """Return what a limit becomes with something measured: the foremost of its manoeuvres."""
    gone = _gone(wish)
    shares = {name: x.share(gone) for name, x in known.items()}
    share = telling.share(gone)

    def whole(part: Callable[[Share], float]) -> AftLimit:
        each = [
            _moved(x, known[x.manoeuvre], part(shares[x.manoeuvre])) if x.manoeuvre in known else x
            for x in limit.each
        ]
        ends = narrowest(each)
        aft = min(x.aft_mm for x in each if x.aft_mm is not None)
        return replace(limit, aft_mm=aft, low_mm=ends.low_mm, high_mm=ends.high_mm)

    assert limit.aft_mm is not None
    then, least, most = (whole(x) for x in (_value, _low, _high))
    gains = [x.aft_mm - limit.aft_mm for x in (then, least, most) if x.aft_mm is not None]
    return Promise(
        name=wish.name, text=wish.text, measure=wish.measure, assumed=wish.assumed, keys=wish.keys,
        share=share.value, share_low=share.low, share_high=share.high, told=share.told,
        aft_mm=limit.aft_mm + gains[0], low_mm=then.low_mm, high_mm=then.high_mm,
        gain_mm=gains[0], gain_low_mm=gains[1], gain_high_mm=gains[2],
    )  # fmt: skip


def _value(share: Share) -> float:
    return share.value


def _low(share: Share) -> float:
    return share.low


def _high(share: Share) -> float:
    return share.high


def _moved(one: ManoeuvreLimit, spreading: Spreading, share: float) -> ManoeuvreLimit:
    """Return a manoeuvre's limit without a share of its spread."""

    def place(mm: float | None) -> float | None:
        return None if mm is None else spreading.moved(mm, share)

    return replace(
        one, aft_mm=place(one.aft_mm), low_mm=place(one.low_mm), high_mm=place(one.high_mm)
    )


def _own(
    telling: Spreading, together: Measurement, spreads: Sequence[Spread]
) -> tuple[OwnShare, ...]:
    """Return what of the method holds most of the spread and stands out of chance."""
    gone = _gone(together)
    day = tables.measuring().of_the_day
    usual = {x.name: x.measure for x in tables.uncertainty().entries}
    out = []
    for spread in spreads:
        share = telling.share({spread.name: 1.0 - gone.get(spread.name, 0.0)})
        if share.told and spread.name not in day:
            tells = "" if usual[spread.name].startswith(NOTHING) else usual[spread.name]
            out.append(OwnShare(spread.name, spread.text, tells, share.value))
    return tuple(sorted(out, key=lambda x: -x.share)[:MOST_OWN])
