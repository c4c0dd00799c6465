"""The search for one aft limit: which draws are lost at which balance point, and how to go aft.

A point passes where, in every manoeuvre asked, the lower 95 % limit of the share that came
back is at or above the requirement, by one single recovery and by the rule that set-ups
are judged by (`judge.looks`). Far from the boundary few draws are flown: a point passes at the
first look that shows it, and is given up as soon as more draws are lost than the full number
could bear, which never changes what the full number would say.
"""

from collections import Counter
from collections.abc import Mapping, Sequence

import numpy as np

from sim.aero.tables import read_toml
from sim.describe import FileFault, StudyFiles
from sim.fly.assemble import Assembled, assemble
from sim.judge import is_back, looks_for
from sim.judge.looks import Looks
from sim.study.combinations import Combination
from sim.study.result import AftStep
from sim.study.running import BATCH, Leg, Runner


def most_lost(looks: Looks) -> int:
    """Return how many of the most draws may be lost with the lower limit still at the share.

    -1 where even none lost is not enough, as with fewer than 73 draws for 95 %.
    """
    draws, lost = looks.counts[-1], -1
    while lost + 1 <= draws and looks.limits(draws - lost - 1, draws)[0] >= looks.required:
        lost += 1
    return lost


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
        values = read_toml("study.toml").values
        self.runner = runner
        self.files = files
        self.study = study
        self.wish = wish
        self.pack = pack
        self.combination = combination
        self.step = float(values["search_step_mm"])
        self.tolerance = float(values["search_tolerance_mm"])
        self.screening = min(int(values["screening_draws"]), wish.draws)
        self.chunk = 4 * BATCH
        self.looks = looks_for(study.required_share_pct / 100.0, wish.draws)
        self.bearable = most_lost(self.looks)
        self.lost: dict[tuple[str, str], dict[float, dict[int, bool]]] = {}
        self._assembled: dict[float, Assembled | None] = {}

    def at(self, balance_mm: float) -> Assembled | None:
        """Return the pack's set-up at a balance point, None where it cannot be had."""
        if balance_mm not in self._assembled:
            setup = self.combination.setup.model_copy(update={"pack": self.pack})
            try:
                found = assemble(self.files.aeroplane, setup.at_balance(balance_mm))
            except FileFault:
                found = None
            self._assembled[balance_mm] = found
        return self._assembled[balance_mm]

    def passes(
        self, balance_mm: float, recovery: str, manoeuvres: Sequence[str], draws: int
    ) -> bool:
        """Return False once a point is lost for good, True if it stands after ``draws``.

        With all draws of the search, True as soon as a look shows the share asked for. Draws
        that were lost at other points go first: with common draws they are the likeliest to
        be lost here too, so that a failing point is known after few.
        """
        if self.at(balance_mm) is None:
            return False
        places = [self.there(balance_mm, recovery, m) for m in manoeuvres]
        full = draws == self.wish.draws
        suspects = self._suspects(recovery, manoeuvres) if full else []
        order = suspects + [n for n in range(draws) if n not in set(suspects)]
        todo = [n for n in order if any(n not in place for place in places)]
        while todo and self._worst(places) <= self.bearable:
            if full and all(self._shown_by(place) for place in places):
                return True
            self._fly_more(balance_mm, recovery, manoeuvres, todo[: self.chunk])
            todo = todo[self.chunk :]
        return self._worst(places) <= self.bearable

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

    @staticmethod
    def _worst(places: Sequence[dict[int, bool]]) -> int:
        return max(sum(place.values()) for place in places)

    def _suspects(self, recovery: str, manoeuvres: Sequence[str]) -> list[int]:
        """Return the draws lost at other points with this recovery, the most often lost first."""
        counts: Counter[int] = Counter()
        for manoeuvre in manoeuvres:
            for place in self.lost.get((recovery, manoeuvre), {}).values():
                counts.update(n for n, gone in place.items() if gone)
        return [n for n, _ in sorted(counts.items(), key=lambda item: (-item[1], item[0]))]

    def _fly_more(
        self, balance_mm: float, recovery: str, manoeuvres: Sequence[str], which: list[int]
    ) -> None:
        """Fly the draws ``which`` of a point in every manoeuvre that has not flown them."""
        assembled = self.at(balance_mm)
        assert assembled is not None
        legs, heights, places = [], [], []
        for name in manoeuvres:
            place = self.there(balance_mm, recovery, name)
            draws = np.array([n for n in which if n not in place], dtype=np.int64)
            if draws.size == 0:
                continue
            entry, floor = self.study.limit_heights(name)
            script = self.files.recoveries[recovery]
            legs.append(Leg(assembled, self.files.manoeuvres[name], script, entry, draws))
            heights.append((entry, floor))
            places.append(place)
        for leg, (entry, floor), place, rows in zip(
            legs, heights, places, self.runner.fly(legs), strict=True
        ):
            back = is_back(rows, entry, floor)
            place.update((int(n), not ok) for n, ok in zip(leg.which, back, strict=True))

    def limit(self, recovery: str, manoeuvres: Sequence[str]) -> tuple[float | None, float | None]:
        """Return (last balance point that passes, first that fails) [mm] with one recovery.

        A first look with few draws goes aft in steps until one fails, and that one is flown
        with all; then the interval from the front to there is halved with the draws that
        were lost so far, and what stands is flown with all of them, or the halving goes on in
        front of it. Steps that stood the first look are not flown out in full: a failure
        narrower than a step, seen by neither, would be missed. At the end the weak draws are
        flown once more a little way forward of the limit: in chaos some are lost there and
        come back further aft.
        """
        front, rear, full = self.wish.from_aft_mm, self.wish.to_aft_mm, self.wish.draws
        if not self.passes(front, recovery, manoeuvres, full):
            return None, front
        bad = self._first_failure(front, rear, recovery, manoeuvres)
        if bad is None:
            if self.passes(rear, recovery, manoeuvres, full):
                return rear, None
            bad = rear
        self._fly_out(bad, recovery, manoeuvres)
        good = front
        while bad - good > self.tolerance + 1e-9:
            candidate, bad = self._halve(good, bad, recovery, manoeuvres)
            if candidate == good:
                return good, bad
            if not self.passes(candidate, recovery, manoeuvres, full):
                bad = candidate
            elif self._stands(ahead := self._ahead(candidate), recovery, manoeuvres):
                good = candidate
            else:
                bad = ahead
        return good, bad

    def _ahead(self, balance_mm: float) -> float:
        """Return the balance point a little way forward of another, no further than the front."""
        return max(self.wish.from_aft_mm, balance_mm - self.tolerance)

    def _halve(
        self, good: float, bad: float, recovery: str, manoeuvres: Sequence[str]
    ) -> tuple[float, float]:
        """Return the last point that stands and the first that fails, by the weak draws alone.

        Those are the draws lost anywhere aft so far: going forward others are hardly lost
        first, and what stands is flown with all draws afterwards.
        """
        while bad - good > self.tolerance + 1e-9:
            middle = float(round(0.5 * (good + bad)))
            if self._stands(middle, recovery, manoeuvres):
                good = middle
            else:
                bad = middle
        return good, bad

    def _fly_out(self, balance_mm: float, recovery: str, manoeuvres: Sequence[str]) -> None:
        """Fly every draw of a point that fails: those it loses are the weak ones forward of it."""
        if self.at(balance_mm) is None:
            return
        places = [self.there(balance_mm, recovery, m) for m in manoeuvres]
        todo = [n for n in range(self.wish.draws) if any(n not in place for place in places)]
        if todo:
            self._fly_more(balance_mm, recovery, manoeuvres, todo)

    def _stands(self, balance_mm: float, recovery: str, manoeuvres: Sequence[str]) -> bool:
        """Return whether a point bears the draws that were lost at other points."""
        if self.at(balance_mm) is None:
            return False
        places = [self.there(balance_mm, recovery, m) for m in manoeuvres]
        weak = self._suspects(recovery, manoeuvres)
        todo = [n for n in weak if any(n not in place for place in places)]
        while todo and self._worst(places) <= self.bearable:
            self._fly_more(balance_mm, recovery, manoeuvres, todo[: self.chunk])
            todo = todo[self.chunk :]
        return self._worst(places) <= self.bearable

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
        found: dict[tuple[str, float], list[dict[int, bool]]] = {}
        for (recovery, _), places in self.lost.items():
            for balance, place in places.items():
                if place:
                    found.setdefault((recovery, balance), []).append(place)
        return [self._step(*key, places) for key, places in sorted(found.items())]

    def _step(self, recovery: str, balance: float, places: list[dict[int, bool]]) -> AftStep:
        place = max(places, key=lambda p: sum(p.values()))
        gone = sum(place.values())
        shown = self._shown_by(place)
        complete = shown is not None or set(place) == set(range(len(place)))
        total = shown or (len(place) if complete else self.wish.draws)
        low, high = self.looks.limits(total - gone, total)
        flights = sum(len(p) for p in places)
        return AftStep(
            balance, total, total - gone, flights, low if complete else 0.0, high, recovery,
            complete,
        )  # fmt: skip
