"""The search for one aft limit: which draws are lost at which balance point, and how to go aft.

A point passes where, in every manoeuvre asked, the lower 95 % limit of the share that came
back is at or above the requirement, by one single recovery and by the rule that set-ups
are judged by (`judge.looks`). Far from the boundary few draws are flown: a point passes at the
first look that shows it, and is given up as soon as more draws are lost than the full number
could bear, which never changes what the full number would say.
"""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from sim import tables
from sim.describe import FileFault, StudyFiles
from sim.judge import is_back, looks_for
from sim.judge.looks import most_lost
from sim.pack.assemble import Assembled, assemble
from sim.study.combinations import Combination
from sim.study.results.aft_limit import AftStep
from sim.study.running import BATCH, Leg, Runner


class Search:
    """The search for one pack and combination.

    ``lost`` holds, by recovery, manoeuvre and balance point, which draws were lost.
    """

    def __init__(
        self, runner: Runner, files: StudyFiles, pack: str, combination: Combination
    ) -> None:
        """Look for the limit of ``pack`` with a combination, with the wishes of the study."""
        study, wish = files.study, files.study.aft_limit
        assert wish is not None
        values = tables.study()
        self.runner = runner
        self.files = files
        self.study = study
        self.wish = wish
        self.pack = pack
        self.combination = combination
        self.step = values.search_step_mm
        self.tolerance = values.search_tolerance_mm
        self.screening = min(values.screening_draws, wish.draws)
        self.chunk = 4 * BATCH
        self.fit_share = values.fit_share
        self.looks = looks_for(study.required_share_pct / 100.0, wish.draws)
        self.bearable = most_lost(self.looks)
        self.lost: dict[tuple[str, str], dict[float, dict[int, bool]]] = {}
        self._assembled: dict[float, Assembled | None] = {}

    def at(self, balance_mm: float) -> Assembled | None:
        """Return the pack's set-up at a balance point, None where it cannot be had."""
        if balance_mm not in self._assembled:
            setup = self.combination.setup.model_copy(update={"pack": self.pack})
            try:
                ready = assemble(self.files.aeroplane, setup.at_balance(balance_mm))
            except FileFault:
                ready = None
            self._assembled[balance_mm] = ready
        return self._assembled[balance_mm]

    def passes(
        self, balance_mm: float, recovery: str, manoeuvres: Sequence[str], draws: int
    ) -> bool:
        """Return False once a point is lost for good, True if it stands after ``draws``.

        With all draws of the search, a manoeuvre stands as soon as a look shows the share
        asked for. The manoeuvre that loses most so far goes first, and in it the draws that
        were lost at other points: with common draws they are the likeliest to be lost here
        too, so that a failing point is known after few.
        """
        if self.at(balance_mm) is None:
            return False

        def lost_so_far(name: str) -> int:
            return sum(
                sum(place.values()) for place in self.lost.get((recovery, name), {}).values()
            )

        return all(
            self._passes_one(balance_mm, recovery, name, draws)
            for name in sorted(manoeuvres, key=lost_so_far, reverse=True)
        )

    def _passes_one(self, balance_mm: float, recovery: str, name: str, draws: int) -> bool:
        """Return what `passes` says of one manoeuvre."""
        place = self.there(balance_mm, recovery, name)
        full = draws == self.wish.draws
        suspects = self._suspects(balance_mm, recovery, name) if full else []
        order = suspects + [n for n in range(draws) if n not in set(suspects)]
        todo = [n for n in order if n not in place]
        while todo and sum(place.values()) <= self.bearable:
            if full and self._shown_by(place):
                return True
            self._fly_more(balance_mm, recovery, name, todo[: self.chunk])
            todo = todo[self.chunk :]
        return sum(place.values()) <= self.bearable

    def _shown_by(self, place: Mapping[int, bool]) -> int | None:
        """Return the last look at which the draws of a place show the share asked for, if any.

        A look takes the first so many draws, all of them; one that is lost beyond them, as
        suspects may be that are flown early, must be seen by a later look.
        """
        gone = [n for n, lost in place.items() if lost]
        for count in reversed(self.looks.counts):
            if len(place) >= count and all(n in place for n in range(count)):
                back = count - len(gone)
                whole = max(gone, default=-1) < count
                return count if whole and self._meets(back, count) else None
        return None

    def _meets(self, back: int, count: int) -> bool:
        return self.looks.limits(back, count)[0] >= self.looks.required

    def there(self, balance_mm: float, recovery: str, manoeuvre: str) -> dict[int, bool]:
        """Return which draws were lost at a point so far, to be filled."""
        return self.lost.setdefault((recovery, manoeuvre), {}).setdefault(balance_mm, {})

    def fails(self, balance_mm: float, recovery: str, manoeuvre: str) -> bool:
        """Return True if a point has lost too many draws in one manoeuvre."""
        return sum(self.there(balance_mm, recovery, manoeuvre).values()) > self.bearable

    def _suspects(self, _: float, recovery: str, manoeuvre: str) -> list[int]:
        """Return the draws lost at other points with this recovery, the most often lost first."""
        counts: Counter[int] = Counter()
        for place in self.lost.get((recovery, manoeuvre), {}).values():
            counts.update(n for n, gone in place.items() if gone)
        return [n for n, _ in sorted(counts.items(), key=lambda item: (-item[1], item[0]))]

    def _fly_more(
        self, balance_mm: float, recovery: str, manoeuvre: str, which: Sequence[int]
    ) -> None:
        """Fly those of the draws ``which`` that a point has not flown yet."""
        assembled = self.at(balance_mm)
        assert assembled is not None
        place = self.there(balance_mm, recovery, manoeuvre)
        draws = np.array([n for n in which if n not in place], dtype=np.int64)
        if draws.size == 0:
            return
        entry, floor = self.study.limit_heights(manoeuvre)
        script = self.files.recoveries[recovery]
        leg = Leg(assembled, self.files.manoeuvres[manoeuvre], script, entry, draws)
        (rows,) = self.runner.fly([leg])
        back = is_back(rows, entry, floor)
        place.update((int(n), not ok) for n, ok in zip(draws, back, strict=True))

    def limit(self, recovery: str, manoeuvres: Sequence[str]) -> tuple[float | None, float | None]:
        """Return (last balance point that passes, first that fails) [mm] with one recovery.

        A first look with few draws goes aft in steps until one fails; the failure is drawn in
        as far as those few can tell, and flown with all. Then the interval from the front to
        there is halved with the draws that were lost so far, and what stands is flown with all
        of them, or the halving goes on in front of it. Steps that stood the first look are not
        flown out in full: a failure narrower than a step, seen by neither, would be missed. At
        the end the weak draws are flown once more a little way forward of the limit: in chaos
        some are lost there and come back further aft.
        """
        rear, full = self.wish.to_aft_mm, self.wish.draws
        front = self._foremost()
        if not self.passes(front, recovery, manoeuvres, full):
            return None, front
        bad = self._first_failure(front, rear, recovery, manoeuvres)
        if bad is None:
            if self.passes(rear, recovery, manoeuvres, full):
                return rear, None
            bad = rear
        good = front
        bad = self._drawn_in(good, bad, recovery, manoeuvres)
        self._fly_out(bad, recovery, manoeuvres)
        while bad - good > self.tolerance + 1e-9:
            candidate, bad = self._halve(good, bad, recovery, manoeuvres)
            if candidate == good:
                return good, bad
            if not self.passes(candidate, recovery, manoeuvres, full):
                bad = candidate
            elif self._bears(ahead := self._ahead(candidate), recovery, manoeuvres, self._suspects):
                good = candidate
            else:
                bad = ahead
        return good, bad

    def _foremost(self) -> float:
        """Return the foremost balance point asked for that can be had, to the millimetre."""
        front, rear = self.wish.from_aft_mm, self.wish.to_aft_mm
        while self.at(front) is None and front + 1.0 <= rear:
            front += 1.0
        return front

    def _ahead(self, balance_mm: float) -> float:
        """Return the balance point a little way forward of another, no further than the front."""
        return max(self._foremost(), balance_mm - self.tolerance)

    def _halve(
        self, good: float, bad: float, recovery: str, manoeuvres: Sequence[str]
    ) -> tuple[float, float]:
        """Return the last point that stands and the first that fails, by the doubtful draws alone.

        Going forward, draws that came back further aft are hardly lost first, and what stands
        is flown with all draws afterwards. A point that fails flies all its doubtful draws
        too: those that come back are in no doubt forward of it.
        """
        while bad - good > self.tolerance + 1e-9:
            middle = float(round(0.5 * (good + bad)))
            if self._bears(middle, recovery, manoeuvres, self._doubtful):
                good = middle
            else:
                bad = middle
        return good, bad

    def _drawn_in(self, good: float, bad: float, recovery: str, manoeuvres: Sequence[str]) -> float:
        """Return a failing point that loses not much more than the interval's curve looks at.

        Told by the draws of the first look alone.
        """
        flown = max(len(self.there(bad, recovery, m)) for m in manoeuvres)
        while bad - good > self.tolerance + 1e-9 and self.at(bad) is not None:
            gone = max(sum(self.there(bad, recovery, m).values()) for m in manoeuvres)
            if gone <= self.fit_share * flown:
                break
            middle = float(round(0.5 * (good + bad)))
            if self._bears(middle, recovery, manoeuvres, self._doubtful):
                good = middle
            else:
                bad = middle
        return bad

    def _doubtful(self, balance_mm: float, recovery: str, manoeuvre: str) -> list[int]:
        """Return the draws lost at the next point that flew them, forward or aft of a point."""
        points = self.lost.get((recovery, manoeuvre), {})
        doubtful: set[int] = set()
        for side in (
            sorted(x for x in points if x > balance_mm),
            sorted((x for x in points if x < balance_mm), reverse=True),
        ):
            known: set[int] = set()
            for x in side:
                doubtful.update(n for n, gone in points[x].items() if gone and n not in known)
                known.update(points[x])
        return sorted(doubtful)

    def _fly_out(self, balance_mm: float, recovery: str, manoeuvres: Sequence[str]) -> None:
        """Fly every draw of a point that fails: those it loses are the weak ones forward of it."""
        if self.at(balance_mm) is not None:
            for name in manoeuvres:
                self._fly_more(balance_mm, recovery, name, range(self.wish.draws))

    def _bears(
        self, balance_mm: float, recovery: str, manoeuvres: Sequence[str],
        weak: Callable[[float, str, str], list[int]],
    ) -> bool:  # fmt: skip
        """Return whether a point bears the draws that ``weak`` names for it in each manoeuvre."""
        if self.at(balance_mm) is None:
            return False
        for name in manoeuvres:
            self._fly_more(balance_mm, recovery, name, weak(balance_mm, recovery, name))
        return not any(self.fails(balance_mm, recovery, name) for name in manoeuvres)

    def _first_failure(
        self, front: float, rear: float, recovery: str, manoeuvres: Sequence[str]
    ) -> float | None:
        """Return the first step aft of the front that fails its first look, if any."""
        here = front
        while here < rear - 1e-9:
            here = min(rear, here + self.step)
            if not self.passes(here, recovery, manoeuvres, self.screening):
                return here
        return None

    def steps(self) -> list[AftStep]:
        """Return what is known of every point, by its worst manoeuvre."""
        by_point: dict[tuple[str, float], dict[str, dict[int, bool]]] = {}
        for (recovery, name), places in self.lost.items():
            for balance, place in places.items():
                if place:
                    by_point.setdefault((recovery, balance), {})[name] = place
        return [self._step(*key, places) for key, places in sorted(by_point.items())]

    def _step(self, recovery: str, balance: float, places: dict[str, dict[int, bool]]) -> AftStep:
        name, place = max(places.items(), key=lambda item: sum(item[1].values()))
        gone, shown = sum(place.values()), self._shown_by(place)
        whole = [self._shown_by(p) is not None or set(p) == set(range(len(p)))
                 for p in places.values()]  # fmt: skip
        there = shown is not None or set(place) == set(range(len(place)))
        total = shown or (len(place) if there else self.wish.draws)
        not_flown = tuple(x for x in self.study.limit_manoeuvres if x not in places)
        complete = all(whole) and not not_flown
        low, high = self.looks.limits(total - gone, total)
        flights = sum(len(p) for p in places.values())
        return AftStep(
            manoeuvre=name,
            not_flown=not_flown,
            balance_aft_mm=balance,
            draws=total,
            back=total - gone,
            flights=flights,
            low=low if complete else 0.0,
            high=high,
            recovery=recovery,
            complete=complete,
        )
