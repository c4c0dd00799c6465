"""What stands on a flight card: one page for the field, gathered from a study's set-up."""

from dataclasses import dataclass

from sim import tables
from sim.describe import Aeroplane, SetUp, StudyFiles
from sim.describe.controls import FLAP
from sim.landing.approach import approach_speed, reference_speed
from sim.pack.assemble import Assembled, assemble
from sim.show.card.answer import answer_lines, order_text, verdict_text
from sim.show.card.heights import height_rows
from sim.show.card.rules import abort_rules
from sim.show.words.bench.control_check import gyro_text, sticks_text
from sim.show.words.bench.flight_time import (
    charge_text,
    minutes_text,
    mix_text,
    timer_minutes,
    too_much_texts,
)
from sim.show.words.bench.gyro_line import gyro_line
from sim.show.words.bench.placing import added_text, loose_text, tray_text
from sim.show.words.bench.structure import card_lines
from sim.show.words.bench.throws import Throw, pitch_throw, throws_of
from sim.show.words.findings.mending import mending_lines
from sim.show.words.ladder import LadderText, ladder_text
from sim.show.words.phrases import CAUTION
from sim.show.words.places.begin_at import begin_short
from sim.show.words.places.limits import gone_text
from sim.show.words.places.window import LANDS_FAST, card_window, fast_short, touch_text
from sim.show.words.recovery.sticks import recovery_steps
from sim.show.words.recovery.which_sticks import centring_text
from sim.study.combinations import own_setup
from sim.study.gyro_check import GyroCheck, gyro_on
from sim.study.ladder.ladder import Ladder, may_be_flown, today_setup
from sim.study.results.aft_limit import AftLimit
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.outcomes import recovery_of
from sim.study.standing.window import forward_of_limit, window_of
from sim.study.throws_told import flap_words
from sim.trim.senses import senses
from sim.units.quantities import HEIGHT, LENGTH, MASS, SPEED

MOST_MANOEUVRES = 3  # on the first page; the others stand overleaf
PROGRAM = "program and tables"  # among the study's sources
Pairs = tuple[tuple[str, str], ...]
Rows = tuple[tuple[str, ...], ...]
SHORT_SPEEDS = 4  # of the speeds, those with few words: they come first
NO_LEVEL = "none: no level flight found"
GYRO_HEADS = ("throttle", "roll", "pitch", "yaw")
HEIGHT_HEADS = ("manoeuvre", "came back", "lost", "from", "enter at, floor")


def throw_heads() -> tuple[str, ...]:
    """Return the headings of the throws."""
    return ("surface", "stick", "up", str(LENGTH), "down", str(LENGTH))


@dataclass(frozen=True)
class Card:
    """All that is printed, in words.

    ``travel`` holds the numbers behind ``throws``; ``sticks_check`` and ``turns_check`` say which
    way surfaces go; the second and ``gyro_check`` are empty unless the gyro is on; heights that
    the first page has no room for are in ``overleaf``; ``centring`` says where centred sticks do
    as well, maybe empty; ``timer_note`` stands there too, and
    ``mending``, what to mend first where it is not to be flown.
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
    sticks_check: str
    turns_check: str
    gyro: Rows
    gyro_note: str
    gyro_check: str
    speeds: Pairs
    heights: Rows
    overleaf: Rows
    heights_note: str
    recovery: tuple[str, ...]
    centring: str
    aborts: tuple[str, ...]
    caution: str
    ladder: LadderText
    mending: tuple[str, ...]
    timer_note: str
    small_print: str


def make_card(
    files: StudyFiles,
    result: StudyResult,
    flown: SetUpResult,
    ladder: Ladder,
    check: GyroCheck | None = None,
) -> Card:
    """Return the card of a set-up of a study, with its ladder and the check of its gyro."""
    aeroplane = files.aeroplane
    setup = own_setup(files, flown.name)
    throws = throws_of(aeroplane, setup)
    heights = height_rows(result, flown, ladder)
    recovery = files.recoveries[recovery_of(result, flown)]
    gyro, gyro_note = _gyro(setup)
    ready = assemble(aeroplane, setup)
    moved = senses(ready)
    return Card(
        title=aeroplane.title,
        setup=flown.name if flown.title == flown.name else f"{flown.name}: {flown.title}",
        verdict=verdict_text(result, flown, ladder),
        order=order_text(result, flown, ladder),
        answer=answer_lines(result, flown, ladder),
        balance_mm=flown.balance_aft_mm,
        weights=_weights(aeroplane, setup, flown, ladder.limit),
        travel=tuple(throws),
        throws=tuple(_throw(x) for x in throws),
        throws_note=_throws_note(throws),
        sticks_check=sticks_text(moved),
        turns_check=gyro_text(moved),
        gyro=gyro,
        gyro_note=gyro_note,
        gyro_check=gyro_line(check) if gyro_on(setup) else "",
        speeds=_speeds(ready, flown, ladder),
        heights=heights[:MOST_MANOEUVRES],
        overleaf=heights[MOST_MANOEUVRES:],
        heights_note=f"{HEIGHT}; lost: 95 % of flights; from: NO LOWER, floor included; "
        f"ceiling {HEIGHT(ladder.ceiling_m)}.",
        recovery=tuple(recovery_steps(recovery)),
        centring=centring_text(flown, files.recoveries, result.required_share_pct),
        aborts=abort_rules(flown, ladder, pitch_throw(throws), _today_throw(files)),
        caution=CAUTION,
        ladder=ladder_text(ladder, aeroplane, pitch_throw(throws)),
        mending=() if may_be_flown(result, flown, ladder) else mending_lines(flown, result),
        timer_note=_timer_note(aeroplane, flown),
        small_print=_small_print(result),
    )


def _window(flown: SetUpResult, limit: AftLimit | None) -> str:
    """Return the window of the card's own pack and combination, and where this set-up lies."""
    if flown.forward is None:
        return ""
    held = None if limit is None else limit.held
    text = card_window(window_of(flown.forward, held), forward_of_limit(flown))
    if held is not None:
        text += begin_short(held)
    if limit is None or held is limit:
        return text
    return f"NONE with {gone_text(limit)}; flown without: {text}"


def _weights(
    aeroplane: Aeroplane, setup: SetUp, flown: SetUpResult, limit: AftLimit | None
) -> Pairs:
    pack = aeroplane.packs[flown.pack]
    rows = [
        ("Balance at", f"{LENGTH.ahead(flown.balance_aft_mm)} aft of the datum "
         f"({flown.balance_pct_mac:.1f} % MAC)"),
        ("Datum", aeroplane.datum.text),
        ("Pack", f"{flown.pack}: {pack.cells} cells, {pack.capacity_mah:.0f} mAh, "
         f"{MASS(pack.mass_g)}; all-up {MASS(flown.mass_g)}"),
        ("Tray mark", tray_text(aeroplane, flown.pack, flown.pack_aft_mm)),
    ]  # fmt: skip
    window = _window(flown, limit)
    rows += [("Window", window)] if window else []
    loose = [loose_text(weight) for weight in setup.loose_weights]
    if flown.added_weights:
        loose.append(added_text(flown.added_weights, aeroplane))
    return (*rows, ("Loose weights", "; ".join(loose) or "none"))


def _throw(throw: Throw) -> tuple[str, ...]:
    ends = ("left", "right") if throw.sideways else ("", "")
    out = [throw.channel, throw.stick]
    for deg, mm, way in (
        (throw.up_deg, throw.up_mm, ends[0]), (throw.down_deg, throw.down_mm, ends[1]),
    ):  # fmt: skip
        out += [f"{way} {deg:.0f}°".strip(), LENGTH.figure(mm)]
    return tuple(out)


def _throws_note(throws: list[Throw]) -> str:
    text = f"{LENGTH.spelled} at the trailing edge, inner end of each surface"
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
    text = f"ON, {gyro.mode} mode{fades}."
    return rows, text


def _speeds(ready: Assembled, flown: SetUpResult, ladder: Ladder) -> Pairs:
    aeroplane, fast = ready.aeroplane, ladder.fast
    return (
        ("Stall", f"{SPEED(flown.stall_speed_mps, '.1f')}, power off"),
        ("Approach", _approach(ready)),
        ("Cruise", _cruise(flown)),
        ("Never above", f"{SPEED.at_most(aeroplane.structure.never_exceed_mps)} {SPEED}"),
        *((("Touch-down", touch_text(fast)),) if fast and fast_short(fast) == LANDS_FAST else ()),
        ("Timer", timer_text(flown)),
        *(("Power", f"TOO MUCH: {text}") for text in too_much_texts(flown)),
        *(("Loads", text) for text in card_lines(flown.structure)),
    )


def _approach(ready: Assembled) -> str:
    """Return the speed to come in at, and what it is reckoned from."""
    values = tables.landing()
    of = f"{values.approach_over_stall:g} x stall"
    if reference_speed(ready) > ready.stall.speed_mps:
        of = f"for {values.most_touchdown_deg:g}° at touch-down"
    return f"{SPEED(approach_speed(ready), '.1f')} ({of}{_flap(ready.setup)})"


def _flap(setup: SetUp) -> str:
    """Return how the flap stands at the speeds told; empty without one."""
    if FLAP not in setup.throws:
        return ""
    return f", {flap_words(setup)}" if flap_words(setup) else ", without flap"


def _cruise(flown: SetUpResult) -> str:
    """Return the cruise that the timer is reckoned with, and trims are predicted at."""
    if flown.flight_time is None and not flown.trim.found:
        return "no level flight found"
    return SPEED(flown.cruise_mps)


def timer_text(flown: SetUpResult) -> str:
    """Return what the timer is set to, and how the charger tells it better."""
    time = flown.flight_time
    if time is None:
        return "not told: no motor" if flown.trim.descent_deg is not None else NO_LEVEL
    if time.charged is not None:
        put_back, minutes = time.charged
        return f"{timer_minutes(time)}, by {put_back:.0f} mAh put back after {minutes:g} min"
    again = tables.card().timed_flight_min
    return (
        f"{timer_minutes(time)} at first: reckoned {minutes_text(time)} at {time.current_a:.0f} A. "
        f"Then fly {again:g} min, charge: timer min = {again:g} x {time.usable_mah:.0f} / mAh put "
        "back"
    )


def _timer_note(aeroplane: Aeroplane, flown: SetUpResult) -> str:
    """Return what the timer on the first page was reckoned with; empty where there is none."""
    time = flown.flight_time
    if time is None:
        return ""
    usable = charge_text(time, aeroplane.packs[flown.pack].capacity_mah)
    if time.charged is not None:
        return f"Timer: {usable}, {time.reserve_pct:g} % left at landing."
    return f"Timer: {mix_text(time)}; {usable}, {time.reserve_pct:g} % left at landing."


def _today_throw(files: StudyFiles) -> Throw | None:
    """Return the throw of the pitch surface as it is flown today."""
    return pitch_throw(throws_of(files.aeroplane, today_setup(files)[0]))


def _small_print(result: StudyResult) -> str:
    hashes = dict(result.sources)
    program = f", program and tables {hashes[PROGRAM][:12]}" if PROGRAM in hashes else ""
    return (
        f"Study {result.study}, up to {result.draws} draws a case, seed {result.seed}; aftlimit "
        f"{result.version}{program}."
    )
