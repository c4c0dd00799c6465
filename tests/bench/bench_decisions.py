"""What a decided answer costs, against flying everything: flights, flown seconds, kernel time.

``python -m tests.bench.bench_decisions STUDY ...`` takes studies by name or path; without one,
a small study of each demo aeroplane. "All" flies every draw of every case, each recovery with an
entry of its own, and searches aft limits with all draws at every balance point, every flight to
its end. Seconds are those of the threads that fly, so that a busy machine counts little.
"""

import sys
import threading
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from types import SimpleNamespace

import numpy as np

from sim.core import script_layout as s
from sim.describe import StudyFiles, load_study_files, resolve_setup
from sim.fly.flying import fly_recoveries
from sim.judge import Outcome, looks_for, outcome, shares_of
from sim.pack.assemble import Assembled, assemble, flown_spreads
from sim.study.combinations import searches
from sim.study.deciding import fly_cases
from sim.study.draws import make_draws
from sim.study.limits.search import Found, Search, or_forward
from sim.study.running import Call, Job, Leg, Runner
from sim.study.storing import FlightStore

# balance points [mm]: three set-ups, and where the limit is looked for
DEMOS = {
    "club_sport": ("4s_3300", (60.0, 75.0, 95.0), (60.0, 110.0)),
    "display_jet": ("6s_4000", (125.0, 150.0, 185.0), (125.0, 185.0)),
    "twin_delta": ("4s_3300", (335.0, 350.0, 375.0), (335.0, 385.0)),
}
STUDY = """schema = "aftlimit.study/1"
name = "demo"
title = "Three balance points and the limit"
story = "What decisions cost."
aeroplane = "{aeroplane}"
seed = 7
{setups}
[[cases]]
manoeuvre = "throttle_chop_stall"
recoveries = ["centre_sticks", "rudder_forward"]

[[cases]]
manoeuvre = "incipient_spin"
recoveries = ["centre_sticks", "rudder_forward"]
entry_m = 200.0

[aft_limit]
packs = ["{pack}"]
from_aft_mm = {front}
to_aft_mm = {rear}
"""
SETUP = """
[[setups]]
name = "at_{balance:.0f}"
pack = "{pack}"
balance_aft_mm = {balance}
"""


@dataclass
class Cost:
    """What was flown: flights, seconds of flight, seconds of the threads that flew them."""

    flights: int = 0
    flown_s: float = 0.0
    busy_s: float = 0.0


class CountingRunner(Runner):
    """Counts what it flies; ``whole`` flies each recovery with its own entry, to the end."""

    def __init__(self, files: StudyFiles, whole: bool) -> None:
        """Fly the draws of a study."""
        study = files.study
        most = max(study.draws, study.aft_limit.draws if study.aft_limit else 0)
        draws = make_draws(flown_spreads(files.aeroplane), most, study.seed)
        super().__init__(draws, study.seed, FlightStore(None))
        self.whole = whole
        self.cost = Cost()
        self._lock = threading.Lock()

    def _call(self, legs: Sequence[Leg], job: Job) -> Call:
        return partial(self._counted, legs, job)

    def _counted(self, legs: Sequence[Leg], job: Job) -> np.ndarray:
        start = time.thread_time()
        found = self._each_whole(legs, job) if self.whole else super()._call(legs, job)()
        busy = time.thread_time() - start
        flown = float(found[:, :, s.R_TIME].sum())
        if not self.whole:  # the entry was flown once
            shared = found[1:, :, s.R_T_RECOVERY]
            flown -= float(shared[shared > 0.0].sum())
        with self._lock:
            self.cost.flights += found.shape[0] * found.shape[1]
            self.cost.flown_s += flown
            self.cost.busy_s += busy
        return found

    def _each_whole(self, legs: Sequence[Leg], job: Job) -> np.ndarray:
        rows = [
            fly_recoveries(
                legs[i].assembled, legs[i].manoeuvre, [legs[i].recovery], self.draws.physical,
                job.which, self.sides_of(legs[i], job.which), legs[i].entry_m,
            )
            for i in job.legs
        ]  # fmt: skip
        return np.concatenate(rows)


class PlainSearch(Search):
    """Goes aft with all draws of all manoeuvres at every point, for every recovery."""

    def first_failures(
        self, recoveries: Sequence[str], manoeuvres: Sequence[str]
    ) -> dict[str, float | None]:
        """Return the first step aft at which each recovery fails, if any."""
        self.screening = self.wish.draws
        return super().first_failures(recoveries, manoeuvres)

    def passes(self, balance_mm: float, recovery: str, manoeuvres: Sequence[str]) -> bool:
        """Return whether a point stands, all flown."""
        return self.bears(balance_mm, recovery, manoeuvres, self.suspects)

    def suspects(self, *_: object) -> list[int]:
        """Return all draws."""
        return list(range(self.wish.draws))

    doubtful = suspects

    def best(self, recoveries: Sequence[str], manoeuvres: Sequence[str]) -> Found:
        """Return the limit by the best recovery, the limit of every one of them found."""
        found = [self.limits(recovery, manoeuvres) for recovery in recoveries]
        return max(found, key=lambda x: or_forward(x.whole[0]))


def fly_every_draw(
    runner: Runner, files: StudyFiles, ready: Sequence[Assembled]
) -> list[list[Outcome]]:
    """Return the outcome of each set-up's cases, every draw flown."""
    study = files.study
    looks = looks_for(study.required_share_pct / 100.0, study.draws)
    out = []
    for assembled in ready:
        out.append([])
        for case in study.cases:
            entry, floor = study.heights_of(case)
            scripts = [files.recoveries[name] for name in case.recoveries]
            manoeuvre, which = files.manoeuvres[case.manoeuvre], np.arange(study.draws)
            for rows in runner.fly([Leg(assembled, manoeuvre, r, entry, which) for r in scripts]):
                shares = shares_of(rows, entry, floor, looks.limits)
                out[-1].append(outcome(shares, study.required_share_pct))
    return out


def answers(files: StudyFiles, everything: bool) -> tuple[list[Outcome], list[str], Cost, Cost]:
    """Return the outcomes of all cases and the limits of a study, and what each cost."""
    runner, aeroplane = CountingRunner(files, everything), files.aeroplane
    ready = [
        assemble(files.aeroplane, resolve_setup(files.aeroplane, x)) for x in files.study.setups
    ]
    flown: list[SimpleNamespace] = []
    if everything:
        outcomes = [x for row in fly_every_draw(runner, files, ready) for x in row]
    else:
        rows = fly_cases(runner, files, ready)
        required = files.study.required_share_pct
        outcomes = [outcome(c.shares, required) for row in rows for c in row]
        flown = [
            SimpleNamespace(name=wish.name, pack=one.setup.pack, cases=row)
            for wish, one, row in zip(files.study.setups, ready, rows, strict=True)
        ]
    cases, runner.cost = runner.cost, Cost()
    limits = []
    kind = PlainSearch if everything else Search
    for pack, combination in searches(aeroplane, files.study):
        search = kind(runner, files, pack, combination, flown)
        found = search.best(files.study.limit_recoveries, files.study.limit_manoeuvres)
        each = ", ".join(f"{end}" for end, _ in found.each.values())
        limits.append(f"{found.whole[0]} ({each}) by {found.recovery}")
    return outcomes, limits, cases, runner.cost


def study_lines(files: StudyFiles) -> Iterator[str]:
    """Yield what the answers of a study cost, all flown and as studies fly."""
    everything, less = answers(files, True), answers(files, False)
    decided = sum(x is not Outcome.OPEN for x in less[0]) + len(less[1])
    yield (
        f"{files.study.name}, {files.aeroplane.name}: {decided} answers decided of "
        f"{len(less[0]) + len(less[1])}; {_turned(everything[0], less[0])}"
    )
    for what, i in (("cases", 2), ("limits", 3)):
        if everything[i].flights:
            yield f"  {what}: {_ratio(everything[i], less[i], decided)}"
    yield f"  both: {_ratio(_sum(everything[2:]), _sum(less[2:]), decided)}"
    for before, after in zip(everything[1], less[1], strict=True):
        yield f"  limit with everything flown {before}, as studies fly {after}"


def _turned(before: Sequence[Outcome], after: Sequence[Outcome]) -> str:
    """Return how the outcomes of cases differ: a border case may be decided earlier or not."""
    pairs = [{a, b} for a, b in zip(before, after, strict=True) if a is not b]
    opposite = pairs.count({Outcome.MET, Outcome.NOT_MET})
    other = len(pairs) - opposite
    return f"{opposite} cases the other way round, {other} decided by one alone"


def _sum(costs: Sequence[Cost]) -> Cost:
    return Cost(*(sum(getattr(c, key) for c in costs) for key in ("flights", "flown_s", "busy_s")))


def _ratio(before: Cost, after: Cost, decided: int) -> str:
    return (
        f"{before.flights} flights, {before.flown_s:.0f} s flown, {before.busy_s:.1f} s of "
        f"threads; now {after.flights}, {after.flown_s:.0f}, {after.busy_s:.1f}: "
        f"{before.flights / after.flights:.1f} x, {before.flown_s / after.flown_s:.1f} x, "
        f"{before.busy_s / after.busy_s:.1f} x fewer "
        f"({after.busy_s / max(decided, 1):.1f} s an answer)"
    )


def demo_study(aeroplane: str, folder: Path) -> StudyFiles:
    """Return the small study of a demo aeroplane."""
    pack, balances, (front, rear) = DEMOS[aeroplane]
    setups = "".join(SETUP.format(balance=x, pack=pack) for x in balances)
    path = folder / "demo.toml"
    text = STUDY.format(aeroplane=aeroplane, setups=setups, pack=pack, front=front, rear=rear)
    path.write_text(text, encoding="utf-8")
    return load_study_files(path)


def decision_lines(names: Sequence[str] = ()) -> Iterator[str]:
    """Yield the lines of each study named, or of the demo aeroplanes."""
    with TemporaryDirectory() as room:
        studies = [load_study_files(x) for x in names]
        studies = studies or [demo_study(x, Path(room)) for x in DEMOS]
        for files in studies:
            yield from study_lines(files)


if __name__ == "__main__":
    for line in decision_lines(sys.argv[1:]):
        print(line, flush=True)
