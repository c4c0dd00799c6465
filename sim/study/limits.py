"""How far aft each pack still comes back, to within a millimetre.

Going aft from the front: the last balance point before the first one that fails. A
point passes where, in every manoeuvre asked, the lower 95 % Wilson limit of the share
that came back is at or above the requirement, by one single recovery. Far from the
boundary few draws are flown: a point is given up as soon as more draws are lost than
the full number could bear, which never changes what the full number would say.
"""

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from sim.aero.tables import read_toml
from sim.describe import AftLimit as AftLimitWish
from sim.describe import FileFault, Manoeuvre, SetUp, SetUpBlock, Study, resolve_setup
from sim.describe.aeroplane import Aeroplane
from sim.fly.assemble import Assembled, assemble
from sim.judge import wilson
from sim.judge.verdicts import HELD, RECOVERED, verdict_codes
from sim.study.result import AftLimit, AftStep
from sim.study.running import BATCH, Leg, Runner


def most_lost(draws: int, required: float) -> int:
    """Return how many of ``draws`` may be lost with the lower Wilson limit still at the share.

    -1 where even none lost is not enough, as with fewer than 73 draws for 95 %.
    """
    lost = -1
    while lost + 1 <= draws and wilson(draws - lost - 1, draws)[0] >= required:
        lost += 1
    return lost


@dataclass
class Point:
    """A balance point under trial with one recovery: draws flown, draws lost by manoeuvre."""

    assembled: Assembled
    recovery: Manoeuvre
    flown: set[int]
    lost: list[set[int]]

    @property
    def worst(self) -> int:
        """Draws lost in the manoeuvre that loses most."""
        return max(len(lost) for lost in self.lost)


class Search:
    """The search for one pack."""

    def __init__(
        self,
        runner: Runner,
        aeroplane: Aeroplane,
        study: Study,
        wish: AftLimitWish,
        pack: str,
        manoeuvres: list[Manoeuvre],
    ) -> None:
        """Look for the limit of ``pack`` in the manoeuvres given."""
        values = read_toml("study.toml").values
        self.runner = runner
        self.aeroplane = aeroplane
        self.study = study
        self.wish = wish
        self.pack = pack
        self.manoeuvres = manoeuvres
        self.step = float(values["search_step_mm"])
        self.tolerance = float(values["search_tolerance_mm"])
        self.screening = min(int(values["screening_draws"]), wish.draws)
        self.chunk = 2 * BATCH
        self.required = study.required_share_pct / 100.0
        self.bearable = most_lost(wish.draws, self.required)
        self.steps: list[AftStep] = []
        self._assembled: dict[float, Assembled | None] = {}
        self._points: dict[tuple[float, str], Point] = {}

    def at(self, balance_mm: float) -> Assembled | None:
        """Return the pack's set-up at a balance point, None where it cannot be had."""
        if balance_mm not in self._assembled:
            block = SetUpBlock(like=self.wish.like or self.aeroplane.first_setup, pack=self.pack)
            setup: SetUp = resolve_setup(self.aeroplane, block).at_balance(balance_mm)
            try:
                self._assembled[balance_mm] = assemble(self.aeroplane, setup)
            except FileFault:
                self._assembled[balance_mm] = None
        return self._assembled[balance_mm]

    def passes(self, balance_mm: float, recovery: Manoeuvre, draws: int) -> bool:
        """Return False once a point is lost for good, True if it stands after ``draws``.

        Draws that were lost at other points go first: with common draws they are the
        likeliest to be lost here too, so that a failing point is known after few.
        """
        assembled = self.at(balance_mm)
        if assembled is None:
            return False
        key = (balance_mm, recovery.name)
        if key not in self._points:
            empty: list[set[int]] = [set() for _ in self.manoeuvres]
            self._points[key] = Point(assembled, recovery, set(), empty)
        point = self._points[key]
        suspects = self._suspects(recovery) if draws == self.wish.draws else []
        order = suspects + [n for n in range(draws) if n not in set(suspects)]
        todo = [n for n in order if n not in point.flown]
        while todo and point.worst <= self.bearable:
            self._fly_more(point, todo[: self.chunk])
            todo = todo[self.chunk :]
        self._note(balance_mm, point)
        return point.worst <= self.bearable

    def _suspects(self, recovery: Manoeuvre) -> list[int]:
        """Return the draws lost at other points with this recovery, the most often lost first."""
        counts: Counter[int] = Counter()
        for (_, name), point in self._points.items():
            if name == recovery.name:
                counts.update(n for lost in point.lost for n in lost)
        return [n for n, _ in sorted(counts.items(), key=lambda item: (-item[1], item[0]))]

    def _fly_more(self, point: Point, which: list[int]) -> None:
        """Fly the draws ``which`` of a point in every manoeuvre."""
        entry, floor = self.study.entry_m, self.study.floor_m
        legs = [
            Leg(point.assembled, m, point.recovery, entry, np.array(which, dtype=np.int64))
            for m in self.manoeuvres
        ]
        for k, rows in enumerate(self.runner.fly(legs)):
            codes = verdict_codes(rows, entry, floor)
            point.lost[k].update(
                n for n, code in zip(which, codes, strict=True) if code not in (HELD, RECOVERED)
            )
        point.flown.update(which)

    def _note(self, balance_mm: float, point: Point) -> None:
        """Keep what is known of a point; a later look replaces an earlier one."""
        complete = point.flown == set(range(len(point.flown)))
        total = len(point.flown) if complete else self.wish.draws
        low, high = wilson(total - point.worst, total)
        step = AftStep(
            balance_mm,
            total,
            total - point.worst,
            len(point.flown) * len(self.manoeuvres),
            low if complete else 0.0,
            high,
            point.recovery.name,
            complete,
        )
        self.steps = [
            s
            for s in self.steps
            if (s.balance_aft_mm, s.recovery) != (balance_mm, point.recovery.name)
        ]
        self.steps.append(step)

    def limit(self, recovery: Manoeuvre) -> tuple[float | None, float | None]:
        """Return (last balance point that passes, first that fails) [mm] with one recovery.

        A first look with few draws goes aft in steps until one fails; then the interval
        from the front to there is halved with the full number of draws. Steps that stood
        the first look are not flown out in full: a failure narrower than a step, seen by
        neither, would be missed.
        """
        front, rear = self.wish.from_aft_mm, self.wish.to_aft_mm
        if not self.passes(front, recovery, self.wish.draws):
            return None, front
        bad = self._first_failure(front, rear, recovery)
        if bad is None:
            if self.passes(rear, recovery, self.wish.draws):
                return rear, None
            bad = rear
        good = front
        while bad - good > self.tolerance + 1e-9:
            middle = float(round(0.5 * (good + bad)))
            if self.passes(middle, recovery, self.wish.draws):
                good = middle
            else:
                bad = middle
        return good, bad

    def _first_failure(self, front: float, rear: float, recovery: Manoeuvre) -> float | None:
        """Return the first step aft of the front that fails its first look, if any."""
        here = front
        while here < rear - 1e-9:
            here = min(rear, here + self.step)
            if not self.passes(here, recovery, self.screening):
                return here
        return None


def find_limits(
    runner: Runner,
    aeroplane: Aeroplane,
    study: Study,
    manoeuvres: dict[str, Manoeuvre],
    recoveries: dict[str, Manoeuvre],
    said: Callable[[str], None] = lambda _: None,
) -> tuple[AftLimit, ...]:
    """Return the aft limit of each pack that the study asks for, by its best recovery."""
    wish = study.aft_limit
    if wish is None:
        return ()
    out = []
    for pack in wish.packs:
        said(f"aft limit of {pack}")
        search = Search(
            runner, aeroplane, study, wish, pack, [manoeuvres[m] for m in wish.manoeuvres]
        )
        best: AftLimit | None = None
        for name in wish.recoveries:
            found = _told(search, recoveries[name])
            if best is None or (found.aft_mm or -1e9) > (best.aft_mm or -1e9):
                best = found
        assert best is not None
        out.append(
            replace(
                best,
                flights_used=sum(s.flights for s in search.steps),
                steps=tuple(sorted(search.steps, key=lambda s: (s.recovery, s.balance_aft_mm))),
            )
        )
    return tuple(out)


def _told(search: Search, recovery: Manoeuvre) -> AftLimit:
    """Return the limit with one recovery, as a record."""
    good, bad = search.limit(recovery)
    at = good if good is not None else search.wish.from_aft_mm
    step = next(
        (s for s in search.steps if (s.balance_aft_mm, s.recovery) == (at, recovery.name)), None
    )
    assembled = search.at(at)
    return AftLimit(
        search.pack,
        search.wish.manoeuvres,
        recovery.name,
        good,
        assembled.weighed.balance_pct_mac if good is not None and assembled else None,
        step.low if step else 0.0,
        step.high if step else 1.0,
        step.draws if step else 0,
        0,
        good is not None and bad is None,
        bad,
        (),
    )
