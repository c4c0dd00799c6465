"""The forward limit of each pack and combination of a study, beside its aft limit.

What lies forward of even the nominal one is not flown; between that and the one shown by draws it
lands fast, or lifts its nose late.
"""

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from typing import Any, NamedTuple, Self

from sim import tables
from sim.describe import Aeroplane, SetUp, StudyFiles
from sim.fly.columns import Floats
from sim.landing.approach import approach, landing_flaps
from sim.landing.forward import ForwardLimit
from sim.landing.landing import set_up_forward
from sim.landing.more_area import MoreArea, more_area
from sim.landing.more_throw import MoreThrow, more_throw
from sim.pack.assemble import Assembled, assemble, flown_spreads, power_fit_of
from sim.pack.measurable import measurements
from sim.study.combinations import combination_key, named_setup, own_setup, searches
from sim.study.flights.draws import make_draws
from sim.study.measure.landing import landing_promises
from sim.study.results.aft_limit import AftLimit
from sim.study.results.measuring import LandingPromise
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.window import (
    Kind,
    ahead_mm,
    even_nominal,
    forward_of_limit,
    window_of,
)


@dataclass(frozen=True)
class Fast:
    """How a set-up forward of its forward limit, but not of the nominal one, is landed.

    ``short_mm`` it lies forward of the limit; ``checks`` name what is not shown there. Full aft
    stick holds it to ``held_to_mps``, the nominal aeroplane, and ``held_to_p95_mps``, 95 % of
    draws: the most of any position of its flap that it lands with.
    """

    short_mm: float
    checks: tuple[str, ...]
    held_to_mps: float
    held_to_p95_mps: float


class ForwardLimits:
    """Forward limits of a study, each pack and combination found once.

    By as many draws as landing.toml says, of the study's own seed: a study of few flights
    knows them as well as one of many.
    """

    def __init__(self, files: StudyFiles) -> None:
        """Look for them with the study's draws and the share that it asks for."""
        self.files = files
        spreads = flown_spreads(files.aeroplane)
        count = tables.landing().draws
        self.draws = make_draws(spreads, count, files.study.seed).physical
        self.found: dict[tuple[str, str], ForwardLimit] = {}
        self.sizes: dict[tuple[str, str, float], ForwardLimit] = {}
        self.like: dict[tuple[str, str, float], ForwardLimit] = {}
        self.flown_mm: float | None = None

    def of(self, setup: SetUp) -> ForwardLimit:
        """Return the forward limit of a set-up's pack and combination, wherever it balances."""
        key = setup.pack, combination_key(setup)
        if key not in self.found:
            share = self.files.study.required_share_pct
            self.found[key] = set_up_forward(self.files.aeroplane, setup, self.draws, share)
        return self.found[key]

    def more(self, setup: SetUp, goal_mm: float) -> MoreThrow | None:
        """Return how much more travel brings a set-up's forward limit to a place [mm aft]."""
        return more_throw(self.files.aeroplane, setup, goal_mm, self.of(setup), self.of)

    def opening(self, setup: SetUp, goal_mm: float) -> tuple[MoreThrow | None, MoreArea | None]:
        """Return what brings a forward limit to a place [mm aft]: throw, else a larger elevator."""
        more = self.more(setup, goal_mm)
        reached = more is not None and more.reached
        return more, None if reached else self.larger(setup, goal_mm)

    def measured(self, setup: SetUp) -> tuple[LandingPromise, ...]:
        """Return what measuring would change of a set-up's forward limit, the best first."""
        now, aeroplane = self.of(setup).aft_mm, self.files.aeroplane
        if now is None:
            return ()
        share = self.files.study.required_share_pct
        wishes = measurements(power_fit_of(aeroplane).aeroplane, aeroplane.measured)

        def limit_of(draws: Floats) -> float | None:
            return set_up_forward(aeroplane, setup, draws, share).aft_mm

        return landing_promises(wishes, self.draws, now, limit_of)

    def larger(self, setup: SetUp, goal_mm: float) -> MoreArea | None:
        """Return how much more elevator brings a set-up's forward limit to a place [mm aft]."""
        share = self.files.study.required_share_pct

        def limit_of(aeroplane: Aeroplane, size: float) -> ForwardLimit:
            key = setup.pack, combination_key(setup), size
            if key not in self.sizes:
                self.sizes[key] = set_up_forward(aeroplane, setup, self.draws, share)
            return self.sizes[key]

        return more_area(self.files.aeroplane, goal_mm, limit_of)

    def know(self, result: StudyResult) -> None:
        """Take over what a study has found."""
        for x in result.setups:
            setup = own_setup(self.files, x.name)
            if x.forward is not None:
                self.flown_mm = x.forward.flown_mm if self.flown_mm is None else self.flown_mm
                self.found[x.pack, combination_key(setup)] = x.forward
                self.like[_like(setup)] = x.forward

    def near(self, setup: SetUp) -> ForwardLimit:
        """Return the forward limit of a set-up's pack and combination, or of one like it.

        With the same pack, throws and flap: gyro, loose weights and nozzle hardly move it. It is
        looked for only where none such is known.
        """
        own = self.found.get((setup.pack, combination_key(setup)))
        if own is not None:
            return own
        if _like(setup) not in self.like:
            of = self.of(setup)
            self.like[_like(setup)] = of if self.flown_mm is None else of.against(self.flown_mm)
        return self.like[_like(setup)]

    def fast(self, setup: SetUp, balance_mm: float, forward: ForwardLimit) -> Fast | None:
        """Return how a set-up is landed that lies between the nominal and the shown limit.

        None where it does not lie there.
        """
        short = ahead_mm(forward, balance_mm)
        if not short or even_nominal(forward, balance_mm):
            return None
        ready = assemble(self.files.aeroplane, setup)
        held = [approach(x, self.draws) for x in landing_flaps(ready)]
        return Fast(
            short,
            tuple(x.name for x in forward.checks if x.aft_mm > balance_mm),
            max(x.slowest_mps for x in held),
            max(x.slowest_p95_mps for x in held),
        )


def _like(setup: SetUp) -> tuple[str, str, float]:
    return setup.pack, str(setup.throws), setup.flap_deg


class Opening(NamedTuple):
    """The forward limit of a set-up, and where it lies forward of that, what may open it."""

    forward: ForwardLimit
    more_throw: MoreThrow | None
    more_area: MoreArea | None


class ForwardAside:
    """Forward limits of a study's set-ups, found by a thread of its own while flights are flown.

    Flights leave Python idle, and what is found does not depend on when. ``workers`` 1 has no
    other thread: it looks when it is asked. A context: what is left when it ends is not looked for.
    """

    def __init__(self, files: StudyFiles, ready: Sequence[Assembled], workers: int) -> None:
        """Begin to look, set-up by set-up, then for what limits are searched in."""
        self.limits = ForwardLimits(files)
        self._threads = ThreadPoolExecutor(1) if workers > 1 else None
        self._setups = [self._later(partial(self._opening, x)) for x in ready]
        for pack, like in searches(files.aeroplane, files.study):
            setup = like.setup.model_copy(update={"pack": pack})
            self._later(partial(self.limits.of, setup))

    def __enter__(self) -> Self:
        """Go on."""
        return self

    def __exit__(self, *_: object) -> None:
        """Look for nothing more than what is looked for now."""
        if self._threads is not None:
            self._threads.shutdown(cancel_futures=True)

    def setups(self) -> list[Opening]:
        """Return what is found of each set-up; wait for it."""
        found = [call() for call in self._setups]
        if self._threads is not None:
            self._threads.shutdown()
        return found

    def _later(self, call: Callable[[], Any]) -> Callable[[], Any]:
        return call if self._threads is None else self._threads.submit(call).result

    def _opening(self, ready: Assembled) -> Opening:
        of, aft = self.limits.of(ready.setup), ready.weighed.balance_aft_mm
        if not ahead_mm(of, aft):
            return Opening(of, None, None)
        return Opening(of, *self.limits.opening(ready.setup, aft))


def with_forward(
    files: StudyFiles,
    setups: Sequence[SetUpResult],
    limits: Sequence[AftLimit],
    aside: ForwardAside,
) -> tuple[tuple[SetUpResult, ...], tuple[AftLimit, ...]]:
    """Return set-ups and aft limits, each with the forward limit of its pack and combination.

    Where a set-up lies forward of it, or it leaves no window, with what more throw does.
    """
    flown = tuple(
        replace(x, **found._asdict()) for x, found in zip(setups, aside.setups(), strict=True)
    )
    held = _Held(files, flown)
    flown = tuple(held.setup(x) for x in flown)
    searched = []
    for limit in limits:
        like = named_setup(files.aeroplane, files.study, limit.like)
        setup = like.model_copy(update={"pack": limit.pack})
        beside = _beside(limit, setup, aside.limits, held)
        if limit.without is not None:
            beside = replace(beside, without=_beside(limit.without, setup, aside.limits, held))
        searched.append(beside)
    return flown, tuple(searched)


class _Held:
    """Forward limits held against where the aeroplane is flown today, if today's own is refuted."""

    def __init__(self, files: StudyFiles, setups: Sequence[SetUpResult]) -> None:
        """Look whether today's set-up lies forward of even its nominal limit."""
        now = next((x for x in setups if x.name == files.study.today), None)
        wrong = now is not None and forward_of_limit(now) > 0.0
        wrong = wrong and now is not None and even_nominal(now.forward, now.balance_aft_mm)
        self.flown_mm = now.balance_aft_mm if wrong and now is not None else None
        self._told: dict[int, ForwardLimit] = {}

    def limit(self, of: ForwardLimit) -> ForwardLimit:
        """Return a limit as it stands then; the same for the same one."""
        if self.flown_mm is None:
            return of
        return self._told.setdefault(id(of), of.against(self.flown_mm))

    def setup(self, x: SetUpResult) -> SetUpResult:
        """Return a set-up with its limit as it stands then, and nothing to open what is open."""
        of = x.forward if x.forward is None else self.limit(x.forward)
        if of is x.forward:
            return x
        return replace(x, forward=of, more_throw=None, more_area=None)


def _beside(limit: AftLimit, setup: SetUp, forward: ForwardLimits, held: _Held) -> AftLimit:
    """Return an aft limit with the forward one, and with what may open a window where none is."""
    of, more, larger = held.limit(forward.of(setup)), None, None
    told: tuple[LandingPromise, ...] = ()
    if limit.aft_mm is not None and window_of(of, limit).kind is Kind.NONE:
        more, larger = forward.opening(setup, limit.aft_mm)
        if of.nominal_mm is not None and of.nominal_mm <= limit.aft_mm:
            told = forward.measured(setup)
    return replace(limit, forward=of, more_throw=more, more_area=larger, landing=told)
