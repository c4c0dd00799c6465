"""A small study result made by hand, for the tests of what is shown."""

from dataclasses import replace

import numpy as np

from sim.core import script_layout as s
from sim.judge import shares_of, typical_spin, wilson
from sim.study.result import (
    AftLimit,
    AftStep,
    BeforeAfter,
    CaseResult,
    Change,
    Factor,
    Heights,
    ManoeuvreLimit,
    SetUpResult,
    StudyResult,
    TrimLine,
)

ENTRY_M, FLOOR_M, SPAN_M = 120.0, 40.0, 1.15
MANOEUVRES = {"chop": "throttle chopped, stick held full aft", "spin": "upright spin entry"}
RECOVERIES = {"centre": "centre all sticks", "rudder_forward": "rudder against, stick forward"}


def summaries(flights: int, never: int, drop_m: float, spun: int = 0) -> np.ndarray:
    """Return rows (flights, N_SUMMARY): the first ``never`` do not come back."""
    rows = np.zeros((flights, s.N_SUMMARY))
    rows[:, s.R_DEPARTED] = 1.0
    rows[:, s.R_BACK] = 1.0
    rows[:never, s.R_BACK] = 0.0
    rows[:, s.R_DROP] = drop_m + np.linspace(0.0, 5.0, flights)
    rows[:, s.R_HEIGHT_LOST] = 0.6 * rows[:, s.R_DROP]
    rows[:never, s.R_DROP] = 300.0
    rows[:never, s.R_HEIGHT_LOST] = 250.0
    rows[:spun, s.R_SPUN] = 1.0
    rows[:spun, s.R_SPIN_ALPHA] = np.radians(70.0)
    rows[:spun, s.R_SPIN_YAW] = np.radians(-140.0)
    rows[:spun, s.R_SPIN_RATE] = np.radians(-140.0)
    rows[:spun, s.R_SPIN_SINK] = 9.5
    rows[:spun, s.R_SPIN_SPEED] = 10.0
    return rows


def heights(values: np.ndarray, back: np.ndarray, plus: float = 0.0) -> Heights:
    ends = np.quantile(np.where(back, values + plus, np.inf), [0.5, 0.95], method="inverted_cdf")
    return Heights(*(float(v) if np.isfinite(v) else None for v in ends))


def case(manoeuvre: str, recovery: str, rows: np.ndarray) -> CaseResult:
    back = rows[:, s.R_BACK] > 0.0
    which = np.arange(len(rows))
    return CaseResult(
        manoeuvre, MANOEUVRES[manoeuvre], recovery, RECOVERIES[recovery], ENTRY_M, FLOOR_M,
        shares_of(rows, ENTRY_M, FLOOR_M), heights(rows[:, s.R_HEIGHT_LOST], back),
        heights(rows[:, s.R_PULL_OUT], back), heights(rows[:, s.R_DROP], back, FLOOR_M),
        Heights(20.0, 70.0), typical_spin(rows, SPAN_M), rows, which,
        np.where(which % 2, -1.0, 1.0),
    )  # fmt: skip


def setup(name: str, aft_mm: float, never: int, found: bool = True) -> SetUpResult:
    trim = TrimLine(22.0, found, 3.4, -0.3, 0.5, 24.0, 6.5, 410.0)
    cases = (
        case("chop", "centre", summaries(128, 0, 20.0)),
        case("chop", "rudder_forward", summaries(128, never // 2, 25.0)),
        case("spin", "centre", summaries(128, never, 30.0, spun=96)),
        case("spin", "rudder_forward", summaries(128, min(128, 2 * never), 30.0, spun=96)),
    )
    pct = 0.36 * (aft_mm - 128.0)
    return SetUpResult(
        name, f"{name} [as told]", "6s_4000", 2433.0, aft_mm, pct, 28.7, 28.7 - pct, 13.1, 8.1,
        -127.0, (("tail cone", 54.0),), "canister 40 g at 660 mm", "tail 14/12°",
        "nozzle as built", "gyro off", trim, cases,
    )  # fmt: skip


def limit(pack: str, aft_mm: float | None, at_end: bool = False) -> AftLimit:
    counts = ((170.0, 128, 128), (200.0, 252, 256), (204.0, 230, 256))
    steps = tuple(AftStep(mm, n, k, n, *wilson(k, n), "centre", True) for mm, k, n in counts)
    given_up = AftStep(230.0, 256, 240, 64, 0.0, wilson(240, 256)[1], "centre", False)
    other = AftStep(230.0, 256, 256, 256, *wilson(256, 256), "rudder_forward", True)
    ends = (None, None) if aft_mm is None else (aft_mm - 5.2, None if at_end else aft_mm + 4.8)
    neutral = (None, None) if aft_mm is None else (202.0, 27.1)
    each = tuple(
        ManoeuvreLimit(name, aft_mm, *ends, at_end, None if at_end else 204.0)
        for name in ("chop", "spin")
    )
    return AftLimit(
        pack, "gyro off; canister 40 g at 660 mm; tail 14/12°", "0123abcd", "forward",
        ("forward", "club", "aft"), "gyro off", ("chop", "spin"), "centre", aft_mm,
        None if aft_mm is None else 26.4, *ends, *neutral, *wilson(252, 256), 256, 640, at_end,
        None if at_end else 204.0, each, (*steps, given_up, other),
    )  # fmt: skip


def changes() -> BeforeAfter:
    start = Change("as flown today", 165.0, 12.9, -2.7, 10.5, 503.0, 200.0, 194.8, 204.8, 76.0)
    pack = Change("pack 6s_3300", 180.0, 8.1, -2.0, 10.2, 600.0, None, None, None, None)
    refused = Change("gyro on: cannot be had with the pack in this place")
    end = Change("balance to 195 mm", 195.0, 4.6, -1.2, 10.2, 680.0, 200.0, 194.8, None, np.inf)
    return BeforeAfter("forward", "club", (start, pack, refused, end))


def named_by_file(found: StudyResult) -> StudyResult:
    """Return a study that names its manoeuvres and recoveries by file, folder and ending."""

    def by_file(name: str) -> str:
        return f"own/{name}.toml"

    def case_by_file(x: CaseResult) -> CaseResult:
        return replace(x, manoeuvre=by_file(x.manoeuvre), recovery=by_file(x.recovery))

    setups = tuple(replace(x, cases=tuple(map(case_by_file, x.cases))) for x in found.setups)
    limits = tuple(
        replace(
            x, recovery=by_file(x.recovery), manoeuvres=tuple(map(by_file, x.manoeuvres)),
            each=tuple(replace(one, manoeuvre=by_file(one.manoeuvre)) for one in x.each),
        )
        for x in found.aft_limits
    )  # fmt: skip
    return replace(found, setups=setups, aft_limits=limits, sources=())


def result() -> StudyResult:
    """Return a study of three set-ups: nothing lost, some lost, all lost in the spin."""
    return StudyResult(
        "first_look", "How far aft & how high?", "A club's jet <for the display>.", "display_jet",
        "Display jet", "0.1.0", 7, 128, ENTRY_M, FLOOR_M, 95.0,
        (setup("forward", 165.0, 0), setup("club", 195.0, 12), setup("aft", 225.0, 128, False)),
        (limit("6s_4000", 200.0), limit("6s_3300", None), limit("6s_5000", 204.0, True)),
        (
            Factor("fin_force", "force of the fins", "yaw swing after a rudder kick", 0.62),
            Factor("pitch_inertia", "pitch inertia", "swing-test it", -0.31),
        ),
        128, 1536, 12.0, (("display_jet.toml", "0123456789abcdef" * 4),),
        0, "forward", (changes(),),
    )  # fmt: skip
