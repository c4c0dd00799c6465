"""The ladder of test flights: from the set-up flown today to the wanted one, in single changes."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import inf

from sim.describe import SetUp, StudyFiles, resolve_setup
from sim.judge import Outcome
from sim.landing.forward import ForwardLimit
from sim.pack.assemble import assemble
from sim.study.changes import limit_for
from sim.study.combinations import named_setup, own_setup
from sim.study.flights.watch import Watch
from sim.study.forward import Fast
from sim.study.ladder.climbing import Climbed, Step, climb
from sim.study.ladder.fit import End, Fitness, Refused
from sim.study.ladder.predictions import NO_BAND, Band, Predictor
from sim.study.ladder.way import (
    CHANGES,
    Missing,
    Way,
    afresh,
    balances,
    changes_between,
    find_way,
    largest_step_mm,
)
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import aft_of
from sim.study.standing.outcomes import setup_outcome
from sim.study.standing.packs import cannot_land
from sim.study.standing.window import aft_whole
from sim.weigh import weigh_set_up


@dataclass(frozen=True)
class Ladder:
    """All steps, and why they begin and end where they do.

    ``today`` is the set-up it begins with, ``named`` whether the study says so, ``start_mm``
    its balance; ``skipped`` why even that one must not be flown. ``refused`` is what it
    stops before, ``missing`` the changes that could not be had where their turn was.
    ``blocked`` is what the single changes stop before, where the rest is set up afresh.
    ``limit`` is the wanted set-up's own; ``speed_mps`` that of the level flight predicted.
    ``fast`` is how the wanted set-up is landed where it lies forward of its forward limit.
    ``today_tail`` and ``own_tail`` are the pitch surface [deg] in that level flight, trailing edge
    down positive, of the set-up flown today and of the wanted one.
    """

    setup: str
    wanted_mm: float
    today: str
    named: bool
    start_mm: float
    end: End
    steps: tuple[Step, ...]
    skipped: Refused | None
    refused: Refused | None
    blocked: Refused | None
    missing: tuple[Missing, ...]
    limit: AftLimit | None
    draws: int
    speed_mps: float
    ceiling_m: float
    fast: Fast | None = None
    today_tail: Band = NO_BAND
    own_tail: Band = NO_BAND

    @property
    def reached(self) -> bool:
        """Return True where the wanted set-up is the last step, and may so be flown."""
        return self.end is End.REACHED


def may_be_flown(result: StudyResult, setup: SetUpResult, ladder: Ladder) -> bool:
    """Return True for a set-up that meets the requirement and that its ladder leads up to."""
    met = setup_outcome(setup, result.required_share_pct) is Outcome.MET
    return met and ladder.reached and not cannot_land(setup)


def today_setup(files: StudyFiles) -> tuple[SetUp, bool]:
    """Return the set-up that is flown today, and whether the study says which it is.

    The aeroplane's first where it does not.
    """
    name = files.study.today
    if name is None:
        return resolve_setup(files.aeroplane), False
    return named_setup(files.aeroplane, files.study, name), True


def plan(files: StudyFiles, result: StudyResult, wanted: SetUpResult) -> tuple[Way, End]:
    """Return the way from today's set-up to a wanted one, and where it leads at best.

    Not beyond the aft limit of the wanted pack and combination; nowhere, if that has none.
    """
    today, _ = today_setup(files)
    setup = own_setup(files, wanted.name)
    limit = limit_for(result.aft_limits, setup)
    if limit is not None and limit.aft_mm is None:
        return Way((), False, ()), End.NO_START
    goal, end = _goal(wanted, limit)
    weighed = weigh_set_up(files.aeroplane, today)
    step = largest_step_mm(1000.0 * weighed.reference.mean_chord_m)
    places = balances(weighed.balance_aft_mm, goal, step)
    way = find_way(files.aeroplane, today, setup, places, end is End.REACHED)
    return way, end if way.complete else End.NO_WAY


def _goal(wanted: SetUpResult, limit: AftLimit | None) -> tuple[float, End]:
    """Return the balance point [mm] that a ladder leads to, and where it ends with it.

    The wanted set-up's own, or the aft limit of its pack and combination if it lies aft of that.
    """
    if limit is None or limit.aft_mm is None or not aft_of(wanted.balance_aft_mm, limit):
        return wanted.balance_aft_mm, End.REACHED
    return limit.aft_mm, End.LIMIT


def fly_ladder(
    files: StudyFiles,
    result: StudyResult,
    wanted: SetUpResult,
    recovery: str,
    predictor: Predictor,
    watch: Watch | None = None,
) -> Ladder:
    """Plan the ladder to a set-up of a study and fly every step of it.

    Parameters
    ----------
    recovery : str
        Name of the one recovery that is flown after every manoeuvre.
    predictor : Predictor
        Flies the study's draws.
    watch : Watch, optional
        Who is told about progress.

    Raises
    ------
    FileFault
        The set-up flown today cannot be had.
    """
    fitness = Fitness(files, result, wanted, recovery, predictor)
    way, end = plan(files, result, wanted)
    (watch or Watch()).said("ladder")
    climbed, blocked = _climbed(fitness, way, end)
    today, named = today_setup(files)
    return Ladder(
        setup=wanted.name,
        wanted_mm=wanted.balance_aft_mm,
        today=today.name,
        named=named,
        start_mm=weigh_set_up(files.aeroplane, today).balance_aft_mm,
        end=climbed.end,
        steps=climbed.steps,
        skipped=climbed.skipped,
        refused=climbed.refused,
        blocked=blocked,
        missing=way.missing,
        limit=limit_for(result.aft_limits, own_setup(files, wanted.name)),
        draws=predictor.count,
        speed_mps=wanted.cruise_mps,
        ceiling_m=predictor.ceiling_m,
        fast=fitness.fast(own_setup(files, wanted.name), wanted.balance_aft_mm),
        today_tail=predictor.trim(assemble(files.aeroplane, today), wanted.cruise_mps),
        own_tail=predictor.trim(
            assemble(files.aeroplane, own_setup(files, wanted.name)), wanted.cruise_mps
        ),
    )


def _climbed(fitness: Fitness, way: Way, end: End) -> tuple[Climbed, Refused | None]:
    """Return how far a way leads, or all changes at once where it leads nowhere near.

    With them comes what the single changes stop before, where the rest is set up afresh.
    """
    files, result, wanted = fitness.files, fitness.result, fitness.wanted
    if cannot_land(wanted):
        what, at = f"the wanted {wanted.name}", wanted.balance_aft_mm
        refused = Refused(End.TOO_FORWARD, what, at, forward=wanted.forward)
        return Climbed(End.TOO_FORWARD, (), None, refused), None
    climbed = climb(fitness, way, end)
    stuck = climbed.refused is not None or climbed.end is End.NO_WAY
    # nothing flown today to begin with, and the first flight at the goal itself
    bold = climbed.skipped is not None and len(climbed.steps) == 1
    met = setup_outcome(wanted, result.required_share_pct) is Outcome.MET
    if not ((stuck or bold) and met):
        return climbed, None
    new, leads = plan_afresh(files, result, wanted, fitness.forward.near)
    fresh = climb(fitness, new, leads)
    changes = changes_between(today_setup(files)[0], own_setup(files, wanted.name))
    if bold and len(fresh.steps) > 1 and fresh.end is climbed.end:
        return replace(fresh, skipped=climbed.skipped), None
    if stuck and fresh.steps and not _is_there(climbed, fresh, len(changes)):
        steps = (*climbed.steps, *fresh.steps)
        return replace(fresh, steps=steps, skipped=climbed.skipped), climbed.refused
    return climbed, None


def plan_afresh(
    files: StudyFiles,
    result: StudyResult,
    wanted: SetUpResult,
    ahead: Callable[[SetUp], ForwardLimit],
) -> tuple[Way, End]:
    """Return a way that begins with all changes at once, and where it leads at best.

    As far as the aft limit of the wanted pack and combination, from no further forward than
    that was looked for, and from no further forward than it lands: ``ahead`` tells its forward
    limit.
    """
    today, _ = today_setup(files)
    setup = own_setup(files, wanted.name)
    limit = limit_for(result.aft_limits, setup)
    goal, end = _goal(wanted, limit)
    searched = [] if limit is None else [step.balance_aft_mm for step in limit.steps]
    nominal = ahead(setup).nominal_mm
    front = max(min(searched, default=-inf), -inf if nominal is None else aft_whole(nominal))
    return afresh(files.aeroplane, today, setup, goal, front, end is End.REACHED), end


def _is_there(climbed: Climbed, fresh: Climbed, changes: int) -> bool:
    """Return True if single changes have made all ``changes`` and come as far aft as afresh."""
    made = sum(step.kind in CHANGES for step in climbed.steps)
    if made < changes or not climbed.steps:
        return False
    return climbed.steps[-1].balance_aft_mm >= fresh.steps[-1].balance_aft_mm
