"""What became of a set-up: its cases, trim and deep stall."""

from dataclasses import dataclass, field

import numpy as np

from sim.judge import Hang, Shares, Spin
from sim.landing.forward import ForwardLimit
from sim.landing.more_area import MoreArea
from sim.landing.more_throw import MoreThrow
from sim.study.results.agility import Shown
from sim.study.results.flight_time import FlightTime
from sim.study.results.structure import Structure


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

    ``current_a`` is the pack's; ``minutes`` the time to the pack's reserve in this alone;
    ``pitch_response_dps2`` the pitch acceleration of full aft stick at that speed. A glider's is
    its glide, which descends by ``descent_deg``; None under power.
    """

    speed_mps: float
    found: bool
    alpha_deg: float
    tail_deg: float
    throttle: float
    current_a: float
    minutes: float
    pitch_response_dps2: float
    descent_deg: float | None = None


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
    """The deep stall that recoveries of a set-up by one ``recovery`` hang in, and what ends it.

    ``hangs`` tells what it is like erect and inverted, each where flights hung so.
    """

    recovery: str
    recovery_title: str
    places: tuple[HungIn, ...]
    hangs: tuple[Hang, ...]
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
    flight_time: FlightTime | None = None  # None: nothing flies level
    agility: tuple[Shown, ...] = ()  # what it can do; empty where the study asks for nothing
    forward: ForwardLimit | None = None  # of its pack and combination
    more_throw: MoreThrow | None = None  # where it lies forward of that limit
    more_area: MoreArea | None = None  # where it does, and more throw does not do
    structure: Structure | None = None  # None: no flight tells

    @property
    def cruise_mps(self) -> float:
        """The cruise that is flown [m/s]; the speed of its trim where no flight time is known."""
        time = self.flight_time
        return self.trim.speed_mps if time is None else time.works[0].speed_mps
