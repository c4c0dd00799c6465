"""A small study result made by hand, for the tests of what is shown."""

from dataclasses import replace

import numpy as np

from sim.core import script_layout as s
from sim.judge import shares_of, typical_spin, wilson
from sim.study.results.aft_limit import AftLimit, AftStep, ManoeuvreLimit
from sim.study.results.result import BeforeAfter, Change, Factor, StudyResult
from sim.study.results.set_up import CaseResult, Heights, SetUpResult, TrimLine
from sim.study.results.structure import ManoeuvreLoad, ServoNeed, Structure
from tests.samples.agility import shown

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
        manoeuvre=manoeuvre,
        manoeuvre_title=MANOEUVRES[manoeuvre],
        recovery=recovery,
        recovery_title=RECOVERIES[recovery],
        entry_m=ENTRY_M,
        floor_m=FLOOR_M,
        shares=shares_of(rows, ENTRY_M, FLOOR_M),
        height_lost_m=heights(rows[:, s.R_HEIGHT_LOST], back),
        pull_out_m=heights(rows[:, s.R_PULL_OUT], back),
        entry_height_needed_m=heights(rows[:, s.R_DROP], back, FLOOR_M),
        peak_alpha_deg=Heights(20.0, 70.0),
        spin=typical_spin(rows, SPAN_M),
        rows=rows,
        which=which,
        sides=np.where(which % 2, -1.0, 1.0),
    )


def setup(name: str, aft_mm: float, never: int, found: bool = True) -> SetUpResult:
    trim = TrimLine(
        speed_mps=22.0,
        found=found,
        alpha_deg=3.4,
        tail_deg=-0.3,
        throttle=0.5,
        current_a=24.0,
        minutes=6.5,
        pitch_response_dps2=410.0,
    )
    cases = (
        case("chop", "centre", summaries(128, 0, 20.0)),
        case("chop", "rudder_forward", summaries(128, never // 2, 25.0)),
        case("spin", "centre", summaries(128, never, 30.0, spun=96)),
        case("spin", "rudder_forward", summaries(128, min(128, 2 * never), 30.0, spun=96)),
    )
    pct = 0.36 * (aft_mm - 128.0)
    return SetUpResult(
        name=name,
        title=f"{name} [as told]",
        pack="6s_4000",
        mass_g=2433.0,
        balance_aft_mm=aft_mm,
        balance_pct_mac=pct,
        neutral_point_pct_mac=28.7,
        static_margin_pct=28.7 - pct,
        stall_speed_mps=13.1,
        wing_loading_kg_m2=8.1,
        pack_aft_mm=-127.0,
        added_weights=(("tail cone", 54.0),),
        weights="canister 40 g at 660 mm",
        throws="tail 14/12°",
        nozzle="nozzle as built",
        gyro="gyro off",
        trim=trim,
        cases=cases,
        agility=shown(0.5 * aft_mm - 20.0, never // 12),
        structure=structure(over=never // 16),
    )


def structure(over: int) -> Structure:
    """Return servos and wing of a set-up; ``over`` of its flights passed the limit load factor."""
    servo = ServoNeed(
        channel="tail",
        stated_ncm=42.0,
        needed_ncm=50.0 if over else 6.0,
        p95_ncm=31.0 if over else 5.0,
        manoeuvre="spin",
        speed_mps=17.0,
        alpha_deg=31.0,
        deflection_deg=-14.0,
        stalled=True,
        at_stop=False,
        flights=over and 2,
        held_flights=0,
        short_deg=0.0,
    )
    silent = replace(
        servo, channel="rudder", stated_ncm=None, needed_ncm=3.0, p95_ncm=None, flights=0
    )
    return Structure(
        limit_g=8.0,
        most_g=9.1 if over else 5.2,
        p95_g=5.0,
        over_g=over,
        flights=512,
        unresolved=3,
        never_exceed_mps=55.0,
        most_mps=31.0,
        p95_mps=29.0,
        over_mps=0,
        speeds_of=448,
        loads=(ManoeuvreLoad("chop", 256, 4.0, 0), ManoeuvreLoad("spin", 256, 9.1, over)),
        again=8,
        bending_share=1.2 if over else 0.6,
        bending_in="spin",
        bending_over=int(over > 0),
        servos=(servo, silent),
    )


def step(aft_mm: float, back: int, flights: int, recovery: str = "centre") -> AftStep:
    low, high = wilson(back, flights)
    return AftStep(
        manoeuvre="spin",
        not_flown=(),
        balance_aft_mm=aft_mm,
        draws=flights,
        back=back,
        flights=flights,
        low=low,
        high=high,
        recovery=recovery,
        complete=True,
    )


def limit(pack: str, aft_mm: float | None, at_end: bool = False) -> AftLimit:
    given_up = replace(step(230.0, 240, 256), flights=64, low=0.0, complete=False)
    low, high = (None, None) if aft_mm is None else (aft_mm - 5.2, None if at_end else aft_mm + 4.8)
    share_low, share_high = wilson(252, 256)
    bad = None if at_end else 204.0
    return AftLimit(
        pack=pack,
        combination="gyro off; canister 40 g at 660 mm; tail 14/12°",
        key="0123abcd",
        like="forward",
        setups=("forward", "club", "aft"),
        gyro="gyro off",
        manoeuvres=("chop", "spin"),
        recovery="centre",
        aft_mm=aft_mm,
        pct_mac=None if aft_mm is None else 26.4,
        low_mm=low,
        high_mm=high,
        neutral_mm=None if aft_mm is None else 202.0,
        neutral_pct_mac=None if aft_mm is None else 27.1,
        share_low=share_low,
        share_high=share_high,
        draws_used=256,
        flights_used=640,
        at_end=at_end,
        first_failure_mm=bad,
        each=tuple(
            ManoeuvreLimit(
                manoeuvre=name,
                aft_mm=aft_mm,
                low_mm=low,
                high_mm=high,
                at_end=at_end,
                first_failure_mm=bad,
            )
            for name in ("chop", "spin")
        ),
        steps=(
            step(170.0, 128, 128),
            step(200.0, 252, 256),
            step(204.0, 230, 256),
            given_up,
            step(230.0, 256, 256, "rudder_forward"),
        ),
    )


def changes() -> BeforeAfter:
    start = Change(
        what="as flown today",
        balance_aft_mm=165.0,
        static_margin_pct=12.9,
        tail_deg=-2.7,
        stall_speed_mps=10.5,
        pitch_response_dps2=503.0,
        limit_mm=200.0,
        limit_low_mm=194.8,
        limit_high_mm=204.8,
        height_m=76.0,
    )
    pack = Change(
        what="pack 6s_3300",
        balance_aft_mm=180.0,
        static_margin_pct=8.1,
        tail_deg=-2.0,
        stall_speed_mps=10.2,
        pitch_response_dps2=600.0,
        limit_mm=None,
        limit_low_mm=None,
        limit_high_mm=None,
        height_m=None,
    )
    refused = Change("gyro on: cannot be had with the pack in this place")
    end = Change(
        what="balance to 195 mm",
        balance_aft_mm=195.0,
        static_margin_pct=4.6,
        tail_deg=-1.2,
        stall_speed_mps=10.2,
        pitch_response_dps2=680.0,
        limit_mm=200.0,
        limit_low_mm=194.8,
        limit_high_mm=None,
        height_m=np.inf,
    )
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
        study="first_look",
        title="How far aft & how high?",
        story="A club's jet <for the display>.",
        aeroplane="display_jet",
        aeroplane_title="Display jet",
        version="0.1.0",
        seed=7,
        draws=128,
        entry_m=ENTRY_M,
        floor_m=FLOOR_M,
        required_share_pct=95.0,
        setups=(
            setup("forward", 165.0, 0),
            setup("club", 195.0, 12),
            setup("aft", 225.0, 128, False),
        ),
        aft_limits=(limit("6s_4000", 200.0), limit("6s_3300", None), limit("6s_5000", 204.0, True)),
        factors=(
            Factor("fin_force", "force of the fins", "yaw swing after a rudder kick", 0.62),
            Factor("pitch_inertia", "pitch inertia", "swing-test it", -0.31),
        ),
        factor_draws=128,
        flights=1536,
        seconds=12.0,
        sources=(("display_jet.toml", "0123456789abcdef" * 4),),
        kept=0,
        today="forward",
        changes=(changes(),),
    )
