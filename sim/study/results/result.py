"""What a study found: plain frozen records, ready to be printed, drawn or written."""

from dataclasses import dataclass, field
from math import nan
from typing import TYPE_CHECKING

from sim import tables
from sim.fly.columns import frame
from sim.landing.forward import ForwardLimit
from sim.study.results.aft_limit import AftLimit
from sim.study.results.columns import Column, Table, study_columns
from sim.study.results.set_up import SetUpResult
from sim.study.results.stepped import StepCheck

if TYPE_CHECKING:
    from pandas import DataFrame


@dataclass(frozen=True)
class Change:
    """One thing changed from the set-up flown today towards another, and what it then is.

    ``what`` in words; the numbers are of the set-up with this and all changes before it,
    None where it cannot be had. ``limit_mm`` is the aft limit of its pack and combination
    with its 95 % limits, ``height_m`` the entry height that all it flew is shown from
    (infinite where too many never came back), each None where not searched or flown.
    ``limit_fails_mm`` is where its search first failed, so with no limit the foremost point
    tried; ``limit_at_end`` a limit at the last one tried, which is then at least that.

    ``throttle`` [-] and ``current_a`` are those of level flight at the speed that all set-ups
    are compared at; thrust and ``top_mps`` are full throttle's: all of it nominal. ``minutes`` is
    the median flight time, None where nobody can tell. ``window_mm`` is as wide as forward and
    aft limit lie apart, where both are known.
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
    mass_g: float | None = None
    throttle: float | None = None
    current_a: float | None = None
    static_thrust_n: float | None = None
    thrust_to_weight: float | None = None
    top_mps: float | None = None
    minutes: float | None = None
    forward: ForwardLimit | None = None
    window_mm: float | None = None


@dataclass(frozen=True)
class BeforeAfter:
    """From the set-up flown today to another one: a line for each thing that changes.

    ``speed_mps`` is that of the level flight in ``lines``.
    """

    before: str
    after: str
    lines: tuple[Change, ...]
    speed_mps: float = nan


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
    ``asked_by`` is what the command takes to fly it again: its name or file; ``options`` what it
    was told besides, in pairs. ``ceiling_m`` is the most height that may be used, the usual legal
    one unless ``ceiling_said``: by study, aeroplane or command.
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
    asked_by: str = ""
    options: tuple[tuple[str, str], ...] = ()
    ceiling_m: float = field(default_factory=lambda: tables.card().ceiling_m)
    ceiling_said: bool = False

    def to_columns(self, table: Table = "cases") -> dict[str, Column]:
        """Return a table as columns (n,) by name; see `sim.study.results.columns`."""
        return study_columns(table, self.setups, self.aft_limits)

    def to_frame(self, table: Table = "cases") -> "DataFrame":
        """Return ``to_columns`` as a pandas data frame; it is told where there is no pandas."""
        return frame(self.to_columns(table))
