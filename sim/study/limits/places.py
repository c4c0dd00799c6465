"""Which draws are lost at which balance point: what a search has flown so far.

A search asks of a flight only whether it came back, so its flights are given up at the floor.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

import numpy as np

from sim.core import script_layout as s
from sim.describe import FileFault, StudyFiles, resolve_setup
from sim.judge import is_back, looks_for
from sim.judge.looks import most_lost
from sim.pack.assemble import Assembled, assemble
from sim.study.combinations import Combination
from sim.study.flights.running import BATCH, Leg, Runner
from sim.study.flights.storing import flight_key
from sim.study.results.aft_limit import AftStep
from sim.study.results.set_up import SetUpResult

CHUNK = 4 * BATCH  # flights of one manoeuvre between two looks whether a point is lost


class Places:
    """What is known of the balance points of one pack and combination.

    ``lost`` holds, by recovery, manoeuvre and balance point, which draws were lost, ``lowest``
    how much height each used at most, at any point [m], infinite where it was lost.
    """

    def __init__(
        self, runner: Runner, files: StudyFiles, pack: str, combination: Combination,
        setups: Sequence[SetUpResult] = (),
    ) -> None:  # fmt: skip
        """Know of ``pack`` with a combination what ``setups`` of the study have flown with it."""
        study, wish = files.study, files.study.aft_limit
        assert wish is not None
        self.runner = runner
        self.files = files
        self.study = study
        self.wish = wish
        self.pack = pack
        self.combination = combination
        self.looks = looks_for(study.required_share_pct / 100.0, wish.draws)
        self.bearable = most_lost(self.looks)
        early = (most_lost(self.looks, count) for count in self.looks.counts[:-1])
        self.bearable_early = max(early, default=-1)  # with more lost, only all draws can show it
        self.lost: dict[tuple[str, str], dict[float, dict[int, bool]]] = {}
        self.lowest: dict[tuple[str, str], dict[int, float]] = {}
        self._assembled: dict[float, Assembled | None] = {}
        self.setups = setups
        self.known = tuple(sorted({x for setup in setups for x in self._taken_over(setup)}))

    def _taken_over(self, setup: SetUpResult) -> Iterator[float]:
        """Yield where a set-up of the study stands [mm], and take its flights over, if it fits.

        It does if the search would fly the very same there: same keys of flights.
        """
        wish = next(x for x in self.study.setups if x.name == setup.name)
        aeroplane, place = self.files.aeroplane, wish.balance_aft_mm
        if place is None or not self.wish.from_aft_mm <= place <= self.wish.to_aft_mm:
            return
        ready = self.at(place) if setup.pack == self.pack else None
        if ready is None or setup.name not in self.combination.setups:
            return
        cases = [
            c
            for c in setup.cases
            if c.manoeuvre in self.study.limit_manoeuvres
            and c.recovery in self.study.limit_recoveries
            and self.study.limit_heights(c.manoeuvre) == (c.entry_m, c.floor_m)
        ]
        for case in cases:
            scripts = self.files.manoeuvres[case.manoeuvre], self.files.recoveries[case.recovery]
            keys = {
                flight_key(aeroplane, x, *scripts, self.study.seed, case.entry_m)
                for x in (ready.setup, resolve_setup(aeroplane, wish))
            }
            if len(keys) == 1:
                self._note(place, case.recovery, case.manoeuvre, case.which, case.rows)
                yield place

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

    def there(self, balance_mm: float, recovery: str, manoeuvre: str) -> dict[int, bool]:
        """Return which draws were lost at a point so far, to be filled."""
        return self.lost.setdefault((recovery, manoeuvre), {}).setdefault(balance_mm, {})

    def fails(self, balance_mm: float, recovery: str, manoeuvre: str) -> bool:
        """Return True if a point has lost too many draws in one manoeuvre."""
        return sum(self.there(balance_mm, recovery, manoeuvre).values()) > self.bearable

    def passes(self, balance_mm: float, recovery: str, manoeuvres: Sequence[str]) -> bool:
        """Return whether a point stands: False once it is lost for good.

        A manoeuvre stands as soon as a look shows the share asked for. The manoeuvre that
        loses most so far goes first, and in it the draws that were lost at other points:
        with common draws they are the likeliest to be lost here too, so that a failing point
        is known after few.
        """
        if self.at(balance_mm) is None:
            return False
        order = sorted(manoeuvres, key=lambda m: self.losses(recovery, m), reverse=True)
        return all(self._passes_one(balance_mm, recovery, name) for name in order)

    def shows(self, balance_mm: float, recovery: str, manoeuvres: Sequence[str]) -> bool:
        """Return whether what is flown at a point shows the share asked for, in each manoeuvre."""
        places = (self.there(balance_mm, recovery, name) for name in manoeuvres)
        return all(self._shown_by(place) is not None for place in places)

    def losses(self, recovery: str, manoeuvre: str) -> int:
        """Return how many flights of a manoeuvre were lost so far, at all points."""
        points = self.lost.get((recovery, manoeuvre), {})
        return sum(sum(place.values()) for place in points.values())

    def _passes_one(self, balance_mm: float, recovery: str, name: str) -> bool:
        place = self.there(balance_mm, recovery, name)
        suspects = self.suspects(balance_mm, recovery, name)
        others = [n for n in range(self.wish.draws) if n not in set(suspects)]
        todo = [n for n in (*suspects, *others) if n not in place]
        while todo and sum(place.values()) <= self.bearable:
            if self._shown_by(place):
                return True
            if sum(place.values()) > self.bearable_early:
                # it will take all draws to show it: those that came lowest elsewhere go first
                lowest = self.lowest.get((recovery, name), {})
                todo.sort(key=lambda n: -lowest.get(n, 0.0))
            self.fly(balance_mm, [(recovery, name, todo[:CHUNK])])
            todo = todo[CHUNK:]
        return sum(place.values()) <= self.bearable

    def bears(
        self, balance_mm: float, recovery: str, manoeuvres: Sequence[str],
        weak: Callable[[float, str, str], list[int]],
    ) -> bool:  # fmt: skip
        """Return whether a point bears the draws that ``weak`` names for it in each manoeuvre."""
        if self.at(balance_mm) is None:
            return False
        self.fly(balance_mm, [(recovery, m, weak(balance_mm, recovery, m)) for m in manoeuvres])
        return not any(self.fails(balance_mm, recovery, name) for name in manoeuvres)

    def fly(self, balance_mm: float, wanted: Iterable[tuple[str, str, Sequence[int]]]) -> None:
        """Fly draws at a point that it has not flown yet: of each recovery and manoeuvre, which.

        Recoveries that want the same draws of a manoeuvre share its entries.
        """
        assembled = self.at(balance_mm)
        assert assembled is not None
        places, legs = [], []
        for recovery, manoeuvre, which in wanted:
            place = self.there(balance_mm, recovery, manoeuvre)
            draws = np.array([n for n in which if n not in place], dtype=np.int64)
            if draws.size == 0:
                continue
            entry, floor = self.study.limit_heights(manoeuvre)
            scripts = self.files.manoeuvres[manoeuvre], self.files.recoveries[recovery]
            places.append((recovery, manoeuvre))
            legs.append(Leg(assembled, *scripts, entry, draws, most_drop_m=entry - floor))
        for where, leg, rows in zip(places, legs, self.runner.fly(legs), strict=True):
            self._note(balance_mm, *where, leg.which, rows)

    def _note(
        self, balance_mm: float, recovery: str, manoeuvre: str, which: np.ndarray, rows: np.ndarray
    ) -> None:
        """Note what became of the draws ``which`` (n,) at a point, from their flights' rows."""
        back = is_back(rows, *self.study.limit_heights(manoeuvre))
        place = self.there(balance_mm, recovery, manoeuvre)
        lowest = self.lowest.setdefault((recovery, manoeuvre), {})
        used = np.where(back, rows[:, s.R_DROP], np.inf)
        for n, ok, height in zip(which.tolist(), back.tolist(), used.tolist(), strict=True):
            place[n] = not ok
            lowest[n] = max(height, lowest.get(n, 0.0))

    def suspects(self, _: float, recovery: str, manoeuvre: str) -> list[int]:
        """Return the draws lost at other points with this recovery, the most often lost first."""
        counts: Counter[int] = Counter()
        for place in self.lost.get((recovery, manoeuvre), {}).values():
            counts.update(n for n, gone in place.items() if gone)
        return [n for n, _ in sorted(counts.items(), key=lambda item: (-item[1], item[0]))]

    def doubtful(self, balance_mm: float, recovery: str, manoeuvre: str) -> list[int]:
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
