"""What stands on a flight card: one page for the field, gathered from a study's set-up."""

from dataclasses import dataclass
from math import floor

from sim.aero.tables import read_toml
from sim.describe import Aeroplane, SetUp, StudyFiles, resolve_setup
from sim.show.ladder_words import LadderText, ladder_text
from sim.show.phrases import (
    CAUTION,
    limits_text,
    lost_texts,
    needed_texts,
    setup_outcome,
    share_text,
)
from sim.show.placing import added_text, loose_text, tray_text
from sim.show.sticks import recovery_steps
from sim.show.throws import Throw, edge_mm, pitch_throw, throws_of
from sim.study.ladder import Ladder, limit_of
from sim.study.predictions import End
from sim.study.result import CaseResult, SetUpResult, StudyResult
from sim.study.standing import Outcome, best_case, best_recovery, outcome, worst_case

MOST_MANOEUVRES = 3  # on the first page; the others stand overleaf
PROGRAM = "program and tables"  # among the study's sources
Pairs = tuple[tuple[str, str], ...]
Rows = tuple[tuple[str, ...], ...]
VERDICTS = {
    Outcome.MET: "MEETS THE REQUIREMENT",
    Outcome.OPEN: "UNDECIDED, TOO FEW DRAWS",
    Outcome.NOT_MET: "DOES NOT MEET THE REQUIREMENT",
}
THROW_HEADS = ("surface", "stick", "up", "mm", "down", "mm")
GYRO_HEADS = ("throttle", "roll", "pitch", "yaw")
HEIGHT_HEADS = ("manoeuvre", "came back", "lost", "needs", "enter at, floor")


@dataclass(frozen=True)
class Card:
    """All that is printed, in words.

    ``travel`` holds the numbers behind ``throws``; heights that the first page has no room
    for are in ``overleaf``.
    """

    title: str
    setup: str
    verdict: str
    order: str
    answer: tuple[str, ...]
    balance_mm: float
    weights: Pairs
    travel: tuple[Throw, ...]
    throws: Rows
    throws_note: str
    gyro: Rows
    gyro_note: str
    speeds: Pairs
    heights: Rows
    overleaf: Rows
    heights_note: str
    recovery: tuple[str, ...]
    aborts: tuple[str, ...]
    caution: str
    ladder: LadderText
    small_print: str


def make_card(files: StudyFiles, result: StudyResult, found: SetUpResult, ladder: Ladder) -> Card:
    """Return the card of a set-up of a study, with its ladder."""
    aeroplane = files.aeroplane
    block = next(x for x in files.study.setups if x.name == found.name)
    setup = resolve_setup(aeroplane, block)
    throws = throws_of(aeroplane, setup)
    heights = height_rows(result, found, ladder.ceiling_m)
    flown = best_recovery(found)
    recovery = files.recoveries[flown[0].recovery]
    return Card(
        aeroplane.title,
        found.name if found.title == found.name else f"{found.name}: {found.title}",
        _verdict(result, found),
        _order(result, found, ladder),
        _answer(result, found, flown),
        found.balance_aft_mm,
        _weights(aeroplane, setup, found),
        tuple(throws),
        tuple(_throw(x) for x in throws),
        _throws_note(throws),
        *_gyro(setup),
        _speeds(aeroplane, found),
        heights[:MOST_MANOEUVRES],
        heights[MOST_MANOEUVRES:],
        f"m, 95 % of flights: lost after the first input; needed, floor included; ceiling "
        f"{ladder.ceiling_m:.0f} m.",
        tuple(recovery_steps(recovery)),
        _aborts(pitch_throw(throws), found),
        CAUTION,
        ladder_text(ladder, aeroplane, pitch_throw(throws)),
        _small_print(result),
    )


def _verdict(result: StudyResult, found: SetUpResult) -> str:
    asked = result.required_share_pct
    return f"{VERDICTS[setup_outcome(found, asked)]} (at least {asked:g} % back)"


def _order(result: StudyResult, found: SetUpResult, ladder: Ladder) -> str:
    """Return, in a line, whether the set-up may be flown once its ladder has been."""
    if ladder.end is not End.REACHED:
        if not ladder.steps:
            return "NOT TO BE FLOWN: there is no ladder to it, see overleaf."
        last = ladder.steps[-1].balance_aft_mm
        return f"NOT TO BE FLOWN YET: the ladder overleaf ends at {last:.0f} mm."
    failing = [
        case.manoeuvre_title
        for case in best_recovery(found)
        if outcome(case.shares, result.required_share_pct) is Outcome.NOT_MET
    ]
    never = f" Never: {' or '.join(failing)}." if failing else ""
    return f"Fly it only at the end of the ladder overleaf.{never}"


def _answer(
    result: StudyResult, found: SetUpResult, flown: tuple[CaseResult, ...]
) -> tuple[str, ...]:
    """Return what the study found of a set-up: its worst manoeuvre, and the aft limit."""
    case = worst_case(flown)
    assert case is not None
    lines = [f"Worst: {case.manoeuvre_title}; {share_text(case.shares)}."]
    limit = limit_of(result, found.pack)
    if limit is None:
        return (*lines, f"No aft limit was looked for with pack {found.pack}.")
    flights = " and ".join(name.replace("_", " ") for name in limit.manoeuvres)
    if limit.aft_mm is None:
        return (*lines, f"No balance point met it with pack {limit.pack} ({flights}).")
    share = limits_text(limit.share_low, limit.share_high)
    text = f"Aft limit shown with {limit.pack} ({flights}): {limit.aft_mm:.0f} mm "
    text += f"({share} back there)"
    behind = found.balance_aft_mm - limit.aft_mm
    if behind > 0.0:
        text += f"; this set-up lies {behind:.0f} mm aft of it"
    return (*lines, f"{text}.")


def _weights(aeroplane: Aeroplane, setup: SetUp, found: SetUpResult) -> Pairs:
    pack = aeroplane.packs[found.pack]
    rows = [
        ("Balance at", f"{found.balance_aft_mm:.0f} mm aft of the datum "
         f"({found.balance_pct_mac:.1f} % MAC), ready to fly"),
        ("Datum", aeroplane.datum.text),
        ("All-up", f"{found.mass_g:.0f} g"),
        ("Pack", f"{found.pack}: {pack.cells} cells, {pack.capacity_mah:.0f} mAh, "
         f"{pack.mass_g:.0f} g"),
        ("Tray mark", tray_text(aeroplane, found.pack, found.pack_aft_mm)),
    ]  # fmt: skip
    loose = [loose_text(weight) for weight in setup.loose_weights]
    if found.added_weights:
        loose.append(added_text(found.added_weights, aeroplane))
    return (*rows, ("Loose weights", "; ".join(loose) or "none"))


def _throw(throw: Throw) -> tuple[str, ...]:
    ends = ("left", "right") if throw.sideways else ("", "")
    out = [throw.channel, throw.stick]
    for deg, mm, way in (
        (throw.up_deg, throw.up_mm, ends[0]), (throw.down_deg, throw.down_mm, ends[1]),
    ):  # fmt: skip
        out += [f"{way} {deg:.0f}°".strip(), f"{mm:.0f}"]
    return tuple(out)


def _throws_note(throws: list[Throw]) -> str:
    text = "mm at the trailing edge, inner end of each surface"
    if any(x.all_moving for x in throws):
        text += " (all-moving: at its root)"
    return f"{text}, stick full over."


def _gyro(setup: SetUp) -> tuple[Rows, str]:
    """Return gains by throttle and a line about them; no rows where no gyro works."""
    gyro = setup.gyro_settings
    if gyro is None:
        return (), "None fitted."
    if setup.gyro == "off":
        return (), "OFF. Check its switch before every flight."
    rows = tuple(
        (
            name,
            *(f"{gain * factor:.3f}" for gain in (gyro.roll_gain, gyro.pitch_gain, gyro.yaw_gain)),
        )
        for name, factor in zip(("idle", "half", "full"), gyro.throttle_schedule, strict=True)
    )
    fades = ", none at full stick" if gyro.stick_override else ""
    text = f"ON, {gyro.mode} mode, surface ° per °/s{fades}."
    return rows, text


def _speeds(aeroplane: Aeroplane, found: SetUpResult) -> Pairs:
    values = read_toml("card.toml").values
    trim, stall = found.trim, found.stall_speed_mps
    approach = values["approach_over_stall"]
    return (
        ("Stall", f"{stall:.1f} m/s, power off"),
        ("Approach", f"{approach * stall:.1f} m/s ({approach:g} x stall)"),
        ("Cruise", f"{trim.speed_mps:.0f} m/s" if trim.found else "no level flight found"),
        ("Never above", f"{aeroplane.structure.never_exceed_mps:.0f} m/s"),
        ("Timer", timer_text(trim.minutes if trim.found else 0.0)),
    )


def timer_text(minutes: float) -> str:
    """Return the timer setting from the minutes that level cruise would last."""
    values = read_toml("card.toml").values
    step = values["timer_step_min"]
    setting = floor(values["timer_share"] * minutes / step + 1e-9) * step
    if setting <= 0.0:
        return "not known: time the first flight"
    share = 100.0 * read_toml("study.toml").values["usable_pack_share"]
    whole, rest = divmod(round(60.0 * setting), 60)
    return f"{whole}:{rest:02d} min (cruise: {minutes:.1f} min to {share:.0f} % used)"


def height_rows(result: StudyResult, found: SetUpResult, ceiling_m: float) -> Rows:
    """Return for each manoeuvre what came back, what it costs, and where to enter it."""
    out = []
    for name in dict.fromkeys(c.manoeuvre for c in found.cases):
        case = _case_of(found, name)
        shares = case.shares
        back = f"{shares.back} of {shares.flights - shares.unresolved} "
        back += f"({limits_text(shares.back_low, shares.back_high)})"
        out.append((
            case.manoeuvre_title, back, lost_texts(case)[1], needed_texts(case)[1],
            _enter(case, result.required_share_pct, ceiling_m),
        ))  # fmt: skip
    return tuple(out)


def _case_of(found: SetUpResult, manoeuvre: str) -> CaseResult:
    """Return the case of a manoeuvre by the card's one recovery, else by its own best."""
    chosen = next((c for c in best_recovery(found) if c.manoeuvre == manoeuvre), None)
    case = chosen or best_case(found, manoeuvre)
    assert case is not None
    return case


def _enter(case: CaseResult, required_share_pct: float, ceiling_m: float) -> str:
    need = case.entry_height_needed_m.p95
    if outcome(case.shares, required_share_pct) is Outcome.NOT_MET:
        return "DO NOT FLY: does not meet the requirement"
    if need is None or need > ceiling_m:
        return "cannot be tested lawfully at this height here"
    height = min(case.entry_m, ceiling_m) if need <= case.entry_m else ceiling_m
    return f"{height:.0f} m, floor {case.floor_m:.0f} m"


def _aborts(pitch: Throw | None, found: SetUpResult) -> tuple[str, ...]:
    """Return the limits at which a test ends, written before take-off."""
    values = read_toml("card.toml").values
    drop = read_toml("judge.toml").values["bank_drop_deg"]
    rules = [f"a wing drops more than {drop:.0f}° other than in the stall or spin you asked for"]
    share = values["trim_share_of_travel"]
    if pitch is not None:
        ends = " or ".join(
            f"{share * deg:.1f}° {way} ({edge_mm(pitch.arm_mm, share * deg):.0f} mm)"
            for deg, way in ((pitch.up_deg, "up"), (pitch.down_deg, "down"))
        )
        rules.append(f"trim is beyond {100.0 * share:.0f} % of the travel: {pitch.channel} {ends}")
    floors = sorted({c.floor_m for c in found.cases}, reverse=True)
    called = " or ".join(f"{x:.0f} m" for x in floors)
    return (
        *rules,
        f"any buzz is heard, a cell is under {values['least_cell_v']:.1f} V, or the timer rings",
        f"the spotter calls the floor, {called}: recover, climb, land",
        "anything is not as printed: land, look, go one step back",
    )


def _small_print(result: StudyResult) -> str:
    hashes = dict(result.sources)
    program = f", program and tables {hashes[PROGRAM][:12]}" if PROGRAM in hashes else ""
    return (
        f"Study {result.study}, {result.draws} draws a case, seed {result.seed}; aftlimit "
        f"{result.version}{program}."
    )


def recovery_of(found: SetUpResult) -> str:
    """Return the name of the one recovery that stands on the card."""
    return best_recovery(found)[0].recovery
