"""What a study found: plain frozen records, ready to be printed, drawn or written."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from sim.fly.columns import frame
from sim.judge import Hang, Shares, Spin
from sim.study.results.aft_limit import AftLimit
from sim.study.results.columns import Column, Table, study_columns
from sim.study.results.stepped import StepCheck

if TYPE_CHECKING:
    from pandas import DataFrame


@dataclass(frozen=True)
class Heights:
    """Median and 95th percentile [m]; None stands for flights that never came back."""

    median: float | None
    p95: float | None


@dataclass(frozen=True)
class CaseResult:
    """One manoeuvre and recovery of a set-up, by the names that the study gives them.

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
class HungIn:
    """How many flights of a manoeuvre hung in a deep stall, and were lost for that reason."""

    manoeuvre: str
    manoeuvre_title: str
    flights: int
    hung: int
    lost: int


@dataclass(frozen=True)
class WayOut:
    """How many of the draws that hang come out by one recovery, flown from where they hang.

    ``low`` and ``high`` are the 95 % limits of the share; ``height_m`` runs from its first
    input to level, of those that came out.
    """

    name: str
    title: str
    flights: int
    out: int
    low: float
    high: float
    height_m: Heights


@dataclass(frozen=True)
class DeepStall:
    """The deep stall that recoveries of a set-up by one ``recovery`` hang in, and what ends it."""

    recovery: str
    recovery_title: str
    places: tuple[HungIn, ...]
    hang: Hang
    ways: tuple[WayOut, ...]


@dataclass(frozen=True)
class SetUpResult:
    """One set-up: what it is, what it weighs, how it trims, and what became of its flights.

    ``weights``, ``throws``, ``nozzle`` and ``gyro`` are its combination in words;
    ``added_weights`` [g] are what its balance point needs besides.
    """

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
    weights: str
    throws: str
    nozzle: str
    gyro: str
    trim: TrimLine
    cases: tuple[CaseResult, ...]
    deep_stall: DeepStall | None = None  # None: no flight hung


@dataclass(frozen=True)
class Change:
    """One thing changed from the set-up flown today towards another, and what it then is.

    ``what`` in words; the numbers are of the set-up with this and all changes before it,
    None where it cannot be had. ``limit_mm`` is the aft limit of its pack and combination
    with its 95 % limits, ``height_m`` the entry height that 95 % of flights need
    (infinite where too many never came back), each None where not searched or flown.
    ``limit_fails_mm`` is where its search first failed, so with no limit the foremost point
    tried; ``limit_at_end`` a limit at the last one tried, which is then at least that.
    """

    what: str
    balance_aft_mm: float | None = None
    static_margin_pct: float | None = None
    tail_deg: float | None = None
    stall_speed_mps: float | None = None
    pitch_response_dps2: float | None = None
    limit_mm: float | None = None
    limit_low_mm: float | None = None
    limit_high_mm: float | None = None
    height_m: float | None = None
    limit_fails_mm: float | None = None
    limit_at_end: bool = False


@dataclass(frozen=True)
class BeforeAfter:
    """From the set-up flown today to another one: a line for each thing that changes."""

    before: str
    after: str
    lines: tuple[Change, ...]


@dataclass(frozen=True)
class Factor:
    """How strongly one uncertainty goes with coming back: Spearman's rank correlation."""

    name: str
    text: str
    measure: str
    correlation: float


@dataclass(frozen=True)
class StudyResult:
    """A whole study.

    ``draws`` is the most that a case may fly; ``factor_draws`` how many tell the factors.
    """

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
    factor_draws: int
    flights: int
    seconds: float
    sources: tuple[tuple[str, str], ...]
    kept: int = 0  # flights of `flights` that an earlier run had flown
    today: str = ""  # the set-up flown today, the aeroplane's first where the study is silent
    changes: tuple[BeforeAfter, ...] = ()
    step: StepCheck | None = None  # a sample flown again at half the integration step

    def to_columns(self, table: Table = "cases") -> dict[str, Column]:
        """Return a table as columns (n,) by name; see `sim.study.results.columns`."""
        return study_columns(table, self.setups, self.aft_limits)

    def to_frame(self, table: Table = "cases") -> "DataFrame":
        """Return ``to_columns`` as a pandas data frame; it is told where there is no pandas."""
        return frame(self.to_columns(table))
