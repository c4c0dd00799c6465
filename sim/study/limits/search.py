"""The search for one aft limit: how to go aft, and when to stop.

A point passes where, in every manoeuvre asked, the lower 95 % limit of the share that came
back is at or above the requirement, by one single recovery and by the rule that set-ups
are judged by (`judge.looks`). Far from the boundary few draws are flown: a point passes at the
first look that shows it, and is given up as soon as more draws are lost than the full number
could bear, which never changes what the full number would say. A recovery that has failed no
further aft than another one's limit is not asked any further.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sim import tables
from sim.describe import StudyFiles
from sim.study.combinations import Combination
from sim.study.flights.running import Runner
from sim.study.limits.places import Places
from sim.study.results.set_up import SetUpResult

FORWARD = -1e9  # stands for a limit forward of all that was tried
Ends = tuple[float | None, float | None]  # last balance point that passes, first that fails [mm]


def or_forward(aft_mm: float | None) -> float:
    """Return a limit [mm] as a number to compare, forward of all where there is none."""
    return FORWARD if aft_mm is None else aft_mm


@dataclass(frozen=True)
class Found:
    """The ends of one recovery, over all manoeuvres and of each alone, by name."""

    recovery: str
    whole: Ends
    each: dict[str, Ends]


class Search(Places):
    """The search for one pack and combination."""

    _front: float | None = None  # where it was told to begin [mm]

    def __init__(
        self, runner: Runner, files: StudyFiles, pack: str, combination: Combination,
        setups: Sequence[SetUpResult] = (),
    ) -> None:  # fmt: skip
        """Look for the limit of ``pack`` with a combination; ``setups`` were flown before."""
        super().__init__(runner, files, pack, combination, setups)
        values = tables.study()
        self.step = values.search_step_mm
        self.tolerance = values.search_tolerance_mm
        self.screening = min(values.screening_draws, self.wish.draws)
        self.fit_share = values.fit_share
        self.unseen = values.unseen_draws

    def best(self, recoveries: Sequence[str], manoeuvres: Sequence[str]) -> Found:
        """Return the limit by the recovery that reaches furthest aft, the first of equal ones.

        All of them fly the first look together; then each, the most promising first, is
        asked whether it stands at the best limit so far, and only if it does for its own. Where
        none stands, what the most promising does is told.
        """
        failed = self.first_failures(recoveries, manoeuvres)

        def promise(recovery: str) -> tuple[float, int]:
            return -self._reach(failed[recovery]), sum(self.losses(recovery, m) for m in manoeuvres)

        best = self.foremost()
        found: dict[str, Found] = {}
        promising = sorted(recoveries, key=promise)
        for recovery in promising:
            reaches = not found or self._reach(failed[recovery]) > best
            if reaches and self.passes(best, recovery, manoeuvres):
                found[recovery] = self.limits(recovery, manoeuvres)
                best = max(best, or_forward(found[recovery].whole[0]))
        if not found:
            return self.limits(promising[0], manoeuvres)
        return max(
            (found[r] for r in recoveries if r in found), key=lambda x: or_forward(x.whole[0])
        )

    def _reach(self, failing_mm: float | None) -> float:
        """Return how far aft a recovery may stand [mm] that fails its first look at a point."""
        return self.wish.to_aft_mm + self.step if failing_mm is None else failing_mm

    def first_failures(
        self, recoveries: Sequence[str], manoeuvres: Sequence[str]
    ) -> dict[str, float | None]:
        """Return the first step aft at which each recovery fails its first look [mm], if any.

        Those that still stand fly it together, so that its entries serve them all.
        """
        failed: dict[str, float | None] = dict.fromkeys(recoveries)
        few = range(self.screening)
        for here in self._steps_aft():
            standing = [r for r in recoveries if failed[r] is None]
            if not standing:
                break
            if self.at(here) is None:
                return {r: here if x is None else x for r, x in failed.items()}
            self.fly(here, [(r, m, few) for m in manoeuvres for r in standing])
            for recovery in standing:
                if any(self.fails(here, recovery, m) for m in manoeuvres):
                    failed[recovery] = here
        return failed

    def _steps_aft(self) -> Iterator[float]:
        """Yield the balance points of the first look, from the foremost to the rearmost [mm].

        Those where set-ups of the study were flown are among them; all at steps of about the
        same size.
        """
        here = self.foremost()
        yield here
        for place in (*(x for x in self.known if x > here), self.wish.to_aft_mm):
            steps = max(1, round((place - here) / self.step))
            ahead, gap = here, place - here
            for i in range(1, steps + 1):
                if gap > 0.0:
                    here = place if i == steps else float(round(ahead + gap * i / steps))
                    yield here

    def limits(self, recovery: str, manoeuvres: Sequence[str]) -> Found:
        """Return the limits of one recovery: of each manoeuvre alone, and over all of them.

        The whole one is the foremost of them, where every manoeuvre must stand with all its
        draws; else the halving goes on in front of it with all of them, and who fails where
        that ends has it alone too.
        """
        each = {name: self.limit(recovery, (name,)) for name in manoeuvres}
        bad = min((x for _, x in each.values() if x is not None), default=None)
        goods = [x for x, _ in each.values() if x is not None]
        if len(goods) < len(each):
            return Found(recovery, (None, bad), each)
        good = min(goods)
        if not self.passes(good, recovery, manoeuvres):
            good, bad = self._closed_in(self.foremost(), good, recovery, manoeuvres)
            for name in manoeuvres:
                if self.fails(bad, recovery, name):
                    each[name] = good, bad
        return Found(recovery, (good, bad), each)

    def limit(self, recovery: str, manoeuvres: Sequence[str]) -> Ends:
        """Return (last balance point that passes, first that fails) [mm] with one recovery.

        A first look with few draws goes aft in steps until one fails; the failure is drawn in
        as far as those few can tell, and flown with all. Then the interval from the front to
        there is halved with the draws that were lost so far, and what stands is flown with all
        of them, or the halving goes on in front of it. Steps that stood the first look are not
        flown out in full: a failure narrower than a step, seen by neither, would be missed. At
        the end the weak draws, and where it is close all of them, are flown once more a little
        way forward of the limit: in chaos some are lost there and come back further aft. Where
        set-ups of the study have shown the share asked for, the halving begins behind the
        rearmost of them.
        """
        front, rear = self.foremost(), self.wish.to_aft_mm
        if not self.passes(front, recovery, manoeuvres):
            return None, front
        bad = self.first_failures([recovery], manoeuvres)[recovery]
        if bad is None:
            if self.passes(rear, recovery, manoeuvres):
                return rear, None
            bad = rear
        bad = self._drawn_in(front, bad, recovery, manoeuvres)
        if self.at(bad) is not None:  # those it loses are the weak ones forward of it
            self.fly(bad, [(recovery, name, range(self.wish.draws)) for name in manoeuvres])
        good = self._shown_before(bad, recovery, manoeuvres)
        return self._closed_in(good, bad, recovery, manoeuvres)

    def _shown_before(self, bad: float, recovery: str, manoeuvres: Sequence[str]) -> float:
        """Return the rearmost point before a failing one where set-ups show the share; the front.

        It must stand a little way forward of it too.
        """
        for place in reversed([x for x in self.known if self.foremost() <= x < bad]):
            if self.shows(place, recovery, manoeuvres) and self._stands_ahead(
                place, recovery, manoeuvres
            ):
                return place
        return self.foremost()

    def _stands_ahead(self, balance_mm: float, recovery: str, manoeuvres: Sequence[str]) -> bool:
        """Return whether the point a little way forward of another one stands.

        Told by the weak draws; by all of them in a manoeuvre that a few more lost ones would turn
        (study.toml), as some are lost forward that come back at every point aft.
        """
        ahead = self._ahead(balance_mm)
        if not self.bears(ahead, recovery, manoeuvres, self.suspects):
            return False
        lost = {m: sum(self.there(ahead, recovery, m).values()) for m in manoeuvres}
        return self.passes(
            ahead, recovery, [m for m in manoeuvres if self.bearable - lost[m] < self.unseen]
        )

    def _closed_in(
        self, good: float, bad: float, recovery: str, manoeuvres: Sequence[str]
    ) -> tuple[float, float]:
        """Return the last point that passes and the first that fails, between two such points."""
        while bad - good > self.tolerance + 1e-9:
            candidate, bad = self._halve(good, bad, recovery, manoeuvres)
            if candidate == good:
                return good, bad
            if not self.passes(candidate, recovery, manoeuvres):
                bad = candidate
            elif self._stands_ahead(candidate, recovery, manoeuvres):
                good = candidate
            else:
                bad = self._ahead(candidate)
        return good, bad

    def first_standing(self, recoveries: Sequence[str], manoeuvres: Sequence[str]) -> float | None:
        """Return the first step aft that stands by one recovery [mm], where the front does not.

        Nose-heavy, some draws do not fly level at the speed that is asked, or are not levelled out,
        which come back further aft: what fails there says nothing of what lies behind it.
        """
        for here in self._steps_aft():
            if any(self.passes(here, recovery, manoeuvres) for recovery in recoveries):
                return here
        return None

    def flown_behind(self, recovery: str, manoeuvre: str) -> dict[float, dict[int, bool]]:
        """Return which draws are lost where, from where the search begins on [mm]."""
        points = self.lost.get((recovery, manoeuvre), {})
        return {x: place for x, place in points.items() if x >= self.foremost()}

    def by_more(self, draws: int) -> "Search":
        """Return this search by more draws, which goes on from all that it has flown."""
        wish = self.wish.model_copy(update={"draws": draws})
        study = self.study.model_copy(update={"aft_limit": wish})
        files = replace(self.files, study=study)
        more = Search(self.runner, files, self.pack, self.combination, self.setups)
        more.lost, more.lowest = self.lost, self.lowest
        return more

    def begin_at(self, front_mm: float | None) -> None:
        """Let the search begin at a balance point further aft [mm]; None: at the foremost."""
        self._front = front_mm

    def foremost(self) -> float:
        """Return where the search begins: the foremost balance point asked for that can be had.

        To the millimetre; where it was told to begin further aft, there.
        """
        if self._front is not None:
            return self._front
        front, rear = self.wish.from_aft_mm, self.wish.to_aft_mm
        while self.at(front) is None and front + 1.0 <= rear:
            front += 1.0
        return front

    def _ahead(self, balance_mm: float) -> float:
        """Return the balance point a little way forward of another, no further than the front."""
        return max(self.foremost(), balance_mm - self.tolerance)

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
            if self.bears(middle, recovery, manoeuvres, self.doubtful):
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
            if self.bears(middle, recovery, manoeuvres, self.doubtful):
                good = middle
            else:
                bad = middle
        return bad
