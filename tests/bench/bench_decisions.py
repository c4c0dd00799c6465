"""What a decided answer costs, against flying everything: flights, flown seconds, kernel time.

``python -m tests.bench.bench_decisions STUDY ...`` takes studies by name or path, and demo
aeroplanes by name for a small study of each; without any, those. "All" flies every draw of every
case, each recovery with an entry of its own, and searches aft limits with all draws at every
balance point, every flight to its end: as many draws as the answers' limits are stated for.
Seconds are of flight, and of the threads that fly, so that a busy machine counts little. An
answer is a set-up whose verdict is decided, or an aft limit.
"""

import sys
import threading
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from types import SimpleNamespace

import numpy as np

from sim.core import script_layout as s
from sim.describe import StudyFiles, load_study_files, resolve_setup
from sim.fly.flying import fly_recoveries
from sim.judge import Outcome, looks_for, outcome
from sim.pack.assemble import Assembled, assemble, flown_spreads
from sim.study.combinations import searches
from sim.study.flights.cases import case_result, flown_case
from sim.study.flights.deciding import fly_cases
from sim.study.flights.draws import make_draws
from sim.study.flights.running import Call, Job, Leg, Runner
from sim.study.flights.storing import FlightStore
from sim.study.limits.aft import _of_manoeuvre
from sim.study.limits.search import Found, Search, or_forward
from sim.study.results.set_up import CaseResult
from sim.study.standing.outcomes import best_recovery, setup_outcome

# pack; balance points [mm] of three set-ups, and where the limit is looked for, so that it lies
# inside; share asked for [%]. The delta brings back 95 % at no balance point that it can have.
DEMOS = {
    "club_sport": ("4s_3300", (35.0, 50.0, 68.0), (30.0, 68.0), 95.0),
    "display_jet": ("6s_4000", (125.0, 150.0, 185.0), (125.0, 185.0), 95.0),
    "twin_delta": ("4s_3300", (345.0, 360.0, 375.0), (340.0, 380.0), 75.0),
}
STUDY = """schema = "aftlimit.study/1"
name = "demo"
title = "Three balance points and the limit"
story = "What decisions cost."
aeroplane = "{aeroplane}"
seed = 7
required_share_pct = {share}
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


@dataclass
class Answers:
    """What a study found, by name, and what that cost."""

    stands: dict[str, tuple[Outcome, str]] = field(default_factory=dict)  # by which recovery
    cases: dict[tuple[str, str, str], Outcome] = field(default_factory=dict)
    limits: dict[str, str] = field(default_factory=dict)
    of_cases: Cost = field(default_factory=Cost)
    of_limits: Cost = field(default_factory=Cost)

    @property
    def decided(self) -> int:
        """How many answers there are."""
        return len(self.limits) + sum(x is not Outcome.OPEN for x, _ in self.stands.values())


def fly_every_draw(
    runner: Runner, files: StudyFiles, ready: Sequence[Assembled]
) -> list[tuple[CaseResult, ...]]:
    """Return the cases of each set-up, every draw flown."""
    study, which = files.study, np.arange(files.study.draws)
    looks = looks_for(study.required_share_pct / 100.0, study.draws)
    out = []
    for assembled in ready:
        own = []
        for case in study.cases:
            entry, floor = study.heights_of(case)
            for name in case.recoveries:
                scripts = files.manoeuvres[case.manoeuvre], files.recoveries[name]
                leg = Leg(assembled, *scripts, entry, which)
                (rows,) = runner.fly([leg])
                about = flown_case(files, case.manoeuvre, name, entry, floor)
                own.append(case_result(about, rows, runner.sides_of(leg), 1.0, looks.limits))
        out.append(tuple(own))
    return out


def answers(files: StudyFiles, everything: bool) -> Answers:
    """Return what a study finds, with everything flown or as studies fly."""
    out, runner, aeroplane = Answers(), CountingRunner(files, everything), files.aeroplane
    ready = [assemble(aeroplane, resolve_setup(aeroplane, x)) for x in files.study.setups]
    rows = (fly_every_draw if everything else fly_cases)(runner, files, ready)
    required = files.study.required_share_pct
    flown = [
        SimpleNamespace(name=wish.name, pack=one.setup.pack, cases=cases)
        for wish, one, cases in zip(files.study.setups, ready, rows, strict=True)
    ]
    for setup in flown:
        stands = best_recovery(setup, required)[0].recovery
        out.stands[setup.name] = setup_outcome(setup, required), stands
        for c in setup.cases:
            out.cases[setup.name, c.manoeuvre, c.recovery] = outcome(c.shares, required)
    out.of_cases, runner.cost = runner.cost, Cost()
    kind, known = (PlainSearch, ()) if everything else (Search, flown)
    for pack, combination in searches(aeroplane, files.study):
        search = kind(runner, files, pack, combination, known)
        found = search.best(files.study.limit_recoveries, files.study.limit_manoeuvres)
        out.limits[f"{pack} {combination.like}"] = _told(search, found)
    out.of_limits = runner.cost
    return out


def _told(search: Search, found: Found) -> str:
    """Return the limit over all manoeuvres, and of each alone with its 95 % limits [mm]."""
    each = [_of_manoeuvre(search, found.recovery, name, x) for name, x in found.each.items()]
    ends = ", ".join(f"{x.aft_mm} ({_mm(x.low_mm)} to {_mm(x.high_mm)})" for x in each)
    return f"{found.whole[0]} by {found.recovery}; each alone {ends}"


def _mm(end: float | None) -> str:
    return "-" if end is None else f"{end:.1f}"


def study_lines(files: StudyFiles) -> Iterator[str]:
    """Yield what the answers of a study cost, all flown and as studies fly."""
    all_flown, now = answers(files, True), answers(files, False)
    yield (
        f"{files.study.name}, {files.aeroplane.name}: {now.decided} answers, "
        f"{all_flown.decided} with everything flown; {_turned(all_flown, now)}"
    )
    pairs = {
        "cases": (all_flown.of_cases, now.of_cases),
        "limits": (all_flown.of_limits, now.of_limits),
    }
    pairs["all"] = _sum(x for x, _ in pairs.values()), _sum(x for _, x in pairs.values())
    for what, (before, after) in pairs.items():
        if before.flights:
            yield f"  {what:6s} {_ratio(before, after)}"
    before, after = pairs["all"]
    yield (
        f"  an answer: {before.flights / all_flown.decided:.0f} flights and "
        f"{before.busy_s / all_flown.decided:.1f} s of threads, now "
        f"{after.flights / now.decided:.0f} and {after.busy_s / now.decided:.1f}"
    )
    for name, limit in all_flown.limits.items():
        yield f"  limit {name}: everything flown {limit}"
        yield f"    as studies fly {now.limits[name]}"


def _turned(before: Answers, after: Answers) -> str:
    """Return how verdicts differ: a border case may be decided earlier or not."""
    changed = [
        f"{name} {was[0]} by {was[1]}, now {after.stands[name][0]} by {after.stands[name][1]}"
        for name, was in before.stands.items()
        if was != after.stands[name]
    ]
    pairs = [{how, after.cases[name]} for name, how in before.cases.items()]
    opposite = pairs.count({Outcome.MET, Outcome.NOT_MET})
    less = sum(len(x) > 1 for x in pairs) - opposite
    return (
        f"set-ups {'; '.join(changed) or 'stand the same'}; of {len(pairs)} cases {opposite} the "
        f"other way round, {less} decided by one alone"
    )


def _sum(costs: Iterator[Cost]) -> Cost:
    every = list(costs)
    return Cost(*(sum(getattr(c, key) for c in every) for key in ("flights", "flown_s", "busy_s")))


def _ratio(before: Cost, after: Cost) -> str:
    return (
        f"{before.flights} flights, {before.flown_s:.0f} s flown, {before.busy_s:.1f} s of "
        f"threads; now {after.flights}, {after.flown_s:.0f}, {after.busy_s:.1f}: "
        f"{before.flights / after.flights:.1f} x, {before.flown_s / after.flown_s:.1f} x, "
        f"{before.busy_s / after.busy_s:.1f} x fewer"
    )


def warm(files: StudyFiles) -> None:
    """Fly one draw of everything before it is counted: what is compiled is read from its cache."""
    runner = CountingRunner(files, True)
    ready = assemble(files.aeroplane, resolve_setup(files.aeroplane, files.study.setups[0]))
    manoeuvre, recovery = (next(iter(x.values())) for x in (files.manoeuvres, files.recoveries))
    runner.fly([Leg(ready, manoeuvre, recovery, 120.0, np.arange(1))])


def demo_study(aeroplane: str, folder: Path) -> StudyFiles:
    """Return the small study of a demo aeroplane."""
    pack, balances, (front, rear), share = DEMOS[aeroplane]
    setups = "".join(SETUP.format(balance=x, pack=pack) for x in balances)
    path = folder / "demo.toml"
    text = STUDY.format(
        aeroplane=aeroplane, setups=setups, pack=pack, front=front, rear=rear, share=share
    )
    path.write_text(text, encoding="utf-8")
    return load_study_files(path)


def decision_lines(names: Sequence[str] = ()) -> Iterator[str]:
    """Yield the lines of each study named, or of the demo aeroplanes."""
    with TemporaryDirectory() as room:
        for name in names or DEMOS:
            files = demo_study(name, Path(room)) if name in DEMOS else load_study_files(name)
            warm(files)
            yield from study_lines(files)


if __name__ == "__main__":
    for line in decision_lines(sys.argv[1:]):
        print(line, flush=True)
