"""An aft limit as the search found it: plain frozen records."""

from dataclasses import dataclass, field

import numpy as np

from sim.fly.columns import Floats
from sim.landing.forward import ForwardLimit
from sim.landing.more_area import MoreArea
from sim.landing.more_throw import MoreThrow
from sim.study.results.measuring import LandingPromise, Measuring


@dataclass(frozen=True)
class AftStep:
    """One balance point tried in the search with one recovery.

    ``back`` of ``draws`` came back in ``manoeuvre``, the one that lost most there; ``not_flown``
    are those of the search that were not flown there at all. ``complete``: every manoeuvre of the
    search was flown in full. Otherwise the point was given up early, or looked at for one
    manoeuvre alone; ``back`` is then the most that can still have come back in all of them, and
    ``low`` is 0: what was flown first were the draws most likely to be lost.
    """

    manoeuvre: str
    not_flown: tuple[str, ...]
    balance_aft_mm: float
    draws: int
    back: int
    flights: int
    low: float
    high: float
    recovery: str
    complete: bool


@dataclass(frozen=True)
class FirstLost:
    """Between which balance points each draw is first lost going aft: (k,) each.

    ``low_mm`` is -inf where draw ``which`` is lost at the foremost point it flew, ``high_mm`` +inf
    where it is lost at none.
    """

    which: np.ndarray
    low_mm: Floats
    high_mm: Floats


@dataclass(frozen=True)
class ManoeuvreLimit:
    """The aft limit of one manoeuvre alone, by the recovery of the limit it belongs to.

    ``low_mm`` and ``high_mm`` are its 95 % limits, None where nothing bounds it; ``first_lost`` is
    what the search knows of each draw.
    """

    manoeuvre: str
    aft_mm: float | None
    low_mm: float | None
    high_mm: float | None
    at_end: bool
    first_failure_mm: float | None
    first_lost: FirstLost | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True)
class NeverMet:
    """A manoeuvre that meets the requirement at no balance point tried, by no recovery tried.

    Flown out with all draws at ``balance_aft_mm``, the foremost, by the recovery that loses least
    there: ``lost`` of ``flights`` were not back above the floor (95 % limits ``lost_low`` and
    ``lost_high``), ``never`` of them from no height, ``unresolved`` for want of an answer: they
    count against. ``need_m`` is the entry height [m] that 95 % need, floor included; None: it has
    no end. ``places`` balance points were flown in all.
    """

    manoeuvre: str
    recovery: str
    balance_aft_mm: float
    places: int
    flights: int
    lost: int
    never: int
    lost_low: float
    lost_high: float
    entry_m: float
    floor_m: float
    need_m: float | None
    unresolved: int = 0
    shown: bool = True


@dataclass(frozen=True)
class AftLimit:
    """How far aft a pack still meets the requirement, going aft from the front.

    For one combination of throws, nozzle, gyro and loose weights: ``combination`` in
    words and as a key, ``like`` the set-up it was searched as, ``setups`` the study's that
    have it, ``flying`` those of them that fly this pack. It holds over all ``manoeuvres`` by one
    ``recovery``; ``each`` has them one by one.

    ``aft_mm`` None: even the foremost balance point tried fails. ``at_end``: nothing
    failed up to the rearmost, so the limit lies beyond. ``low_mm`` and ``high_mm``: where
    other draws would put it, 95 % limits. ``neutral_mm`` and ``neutral_pct_mac``: the
    stick-fixed neutral point there, gyro off, and ``margin_pct`` the static margin [% MAC];
    with no limit at the foremost balance point. ``share_low`` and ``share_high`` are the
    Wilson limits at the limit itself, with ``draws_used`` draws there. ``from_mm``: it holds from
    there on only, the first step aft that stands, as ``ahead`` fail at the foremost; None where
    that stands.
    """

    pack: str
    combination: str
    key: str
    like: str
    setups: tuple[str, ...]
    gyro: str
    manoeuvres: tuple[str, ...]
    recovery: str
    aft_mm: float | None
    pct_mac: float | None
    low_mm: float | None
    high_mm: float | None
    neutral_mm: float | None
    neutral_pct_mac: float | None
    share_low: float
    share_high: float
    draws_used: int
    flights_used: int
    at_end: bool
    first_failure_mm: float | None
    each: tuple[ManoeuvreLimit, ...]
    steps: tuple[AftStep, ...]
    margin_pct: float | None = None
    forward: ForwardLimit | None = None  # of the same pack and combination
    more_throw: MoreThrow | None = None  # where there is no window
    more_area: MoreArea | None = None  # where there is none, nor one by more throw
    landing: tuple[LandingPromise, ...] = ()  # what measuring does to that, where there is none
    reach_mm: tuple[float, float] | None = None  # from where to where its tray balances the pack
    measuring: Measuring | None = None  # what measuring would change; None: nothing can be told
    never: tuple[NeverMet, ...] = ()  # where there is no limit: which manoeuvres are met nowhere
    without: "AftLimit | None" = None  # the limit over the other manoeuvres, then
    flying: tuple[str, ...] = ()
    from_mm: float | None = None  # where the search began, as the foremost balance point fails
    ahead: tuple[NeverMet, ...] = ()  # what fails at that foremost one

    @property
    def as_in(self) -> str:
        """The one set-up that stands for its combination in a heading: one that flies the pack."""
        own = self.flying or self.setups
        return self.like if self.like in own or not own else own[0]

    @property
    def held(self) -> "AftLimit":
        """The limit that holds: its own, or that of the rest where a manoeuvre is met nowhere."""
        return self if self.without is None else self.without

    @property
    def behind_neutral_mm(self) -> float:
        """How far the limit lies behind the neutral point [mm]; 0 where it does not."""
        if self.aft_mm is None or self.neutral_mm is None:
            return 0.0
        return max(0.0, self.aft_mm - self.neutral_mm)
