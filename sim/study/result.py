"""What a study found: plain frozen records, ready to be printed, drawn or written."""

from dataclasses import dataclass, field

import numpy as np

from sim.describe.study import LEAST_DRAWS_FOR_A_LIMIT
from sim.judge import Shares, Spin


@dataclass(frozen=True)
class Heights:
    """Median and 95th percentile [m]; None stands for flights that never came back."""

    median: float | None
    p95: float | None


@dataclass(frozen=True)
class CaseResult:
    """One manoeuvre and recovery of a set-up.

    ``height_lost_m`` runs from the first recovery input to level; ``pull_out_m`` is the
    part of it after rotation has stopped; ``entry_height_needed_m`` is the whole of the
    manoeuvre plus the floor. ``rows`` (n, N_SUMMARY) are the flights, ``which`` (n,) their
    draws and ``sides`` (n,) their directions.
    """

    manoeuvre: str
    manoeuvre_title: str
    recovery: str
    recovery_title: str
    entry_m: float
    floor_m: float
    shares: Shares
    height_lost_m: Heights
    pull_out_m: Heights
    entry_height_needed_m: Heights
    peak_alpha_deg: Heights
    spin: Spin | None
    rows: np.ndarray = field(repr=False)
    which: np.ndarray = field(repr=False)
    sides: np.ndarray = field(repr=False)


@dataclass(frozen=True)
class TrimLine:
    """Level flight at the cruise speed of the study: what a set-up costs and gives.

    ``current_a`` is the pack's; ``minutes`` the time until 80 % of the pack is used;
    ``pitch_response_dps2`` the pitch acceleration of full aft stick at that speed.
    """

    speed_mps: float
    found: bool
    alpha_deg: float
    tail_deg: float
    throttle: float
    current_a: float
    minutes: float
    pitch_response_dps2: float


@dataclass(frozen=True)
class SetUpResult:
    """One set-up: what it weighs, how it trims, and what became of its flights."""

    name: str
    title: str
    pack: str
    mass_g: float
    balance_aft_mm: float
    balance_pct_mac: float
    neutral_point_pct_mac: float
    static_margin_pct: float
    stall_speed_mps: float
    wing_loading_kg_m2: float
    pack_aft_mm: float
    added_weights: tuple[tuple[str, float], ...]
    trim: TrimLine
    cases: tuple[CaseResult, ...]


@dataclass(frozen=True)
class AftStep:
    """One balance point tried in the search with one recovery.

    ``complete``: all ``draws`` were flown, and ``back`` of them came back. Otherwise the
    point was given up early; ``back`` is then the most that can still have come back, and
    ``low`` is 0, because the draws flown first were those most likely to be lost.
    """

    balance_aft_mm: float
    draws: int
    back: int
    flights: int
    low: float
    high: float
    recovery: str
    complete: bool


@dataclass(frozen=True)
class AftLimit:
    """How far aft a pack still meets the requirement, going aft from the front.

    ``aft_mm`` None: even the foremost balance point tried fails. ``at_end``: nothing
    failed up to the rearmost, so the limit lies beyond. ``share_low`` and ``share_high``
    are the Wilson limits at the limit itself, with ``draws_used`` draws there.
    """

    pack: str
    manoeuvres: tuple[str, ...]
    recovery: str
    aft_mm: float | None
    pct_mac: float | None
    share_low: float
    share_high: float
    draws_used: int
    flights_used: int
    at_end: bool
    first_failure_mm: float | None
    steps: tuple[AftStep, ...]


@dataclass(frozen=True)
class Factor:
    """How strongly one uncertainty goes with coming back: Spearman's rank correlation."""

    name: str
    text: str
    measure: str
    correlation: float


@dataclass(frozen=True)
class StudyResult:
    """A whole study."""

    study: str
    title: str
    story: str
    aeroplane: str
    aeroplane_title: str
    version: str
    seed: int
    draws: int
    entry_m: float
    floor_m: float
    required_share_pct: float
    setups: tuple[SetUpResult, ...]
    aft_limits: tuple[AftLimit, ...]
    factors: tuple[Factor, ...]
    flights: int
    seconds: float
    sources: tuple[tuple[str, str], ...]
    kept: int = 0  # flights of `flights` that an earlier run had flown

    @property
    def met(self) -> bool | None:
        """Whether the requirement is met; None where too few draws were flown to say.

        Where aft limits were asked for: every pack has one. Otherwise: some set-up meets
        the requirement in every manoeuvre by one recovery.
        """
        if self.aft_limits:
            return all(limit.aft_mm is not None for limit in self.aft_limits)
        if self.draws < LEAST_DRAWS_FOR_A_LIMIT:
            return None
        return any(meets(setup, self.required_share_pct) for setup in self.setups)


def meets(setup: SetUpResult, required_share_pct: float) -> bool:
    """Return True if one single recovery meets the requirement in all of a set-up's cases."""
    recoveries = {case.recovery for case in setup.cases}
    manoeuvres = {case.manoeuvre for case in setup.cases}
    need = required_share_pct / 100.0
    for recovery in recoveries:
        cases = [c for c in setup.cases if c.recovery == recovery]
        if {c.manoeuvre for c in cases} == manoeuvres and all(
            c.shares.back_low >= need for c in cases
        ):
            return True
    return False
