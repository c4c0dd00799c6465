"""Tables of the landing end: approach, flap, forward limit, gusts; and a study's windows."""

from collections.abc import Sequence
from math import isfinite

from rich.table import Table

from sim import tables
from sim.landing.forward import ForwardLimit
from sim.landing.gusts import GustResponse, Peaks
from sim.landing.landing import Landing
from sim.pack.assemble import Assembled
from sim.show.console.console import Tables, add, heading, notes, paragraph, table
from sim.show.words.phrases import capital, signed
from sim.show.words.places.landing import landing_sentences
from sim.show.words.places.limits import for_whom, gone_text, several_combinations
from sim.show.words.places.window import forward_text, reach_text, short_window
from sim.study.results.aft_limit import AftLimit
from sim.study.standing.window import Kind, aft_whole, window_of
from sim.units.quantities import HEIGHT, LENGTH, SPEED
from sim.units.ranges import range_cell

YARDSTICK = (
    "Speeds are multiples of the stall speed balanced there: the wing's stall, as if the elevator "
    "had the throw for it. A foreplane that stalls before the wing is asked for multiples of the "
    "least steady speed with full aft stick (14 CFR 23.49), at the most usual static margin."
)
PEAKS = ("most_load_g", "least_load_g", "bank_deg", "alpha_deg", "margin_deg")


def landing_tables(ready: Assembled, landing: Landing) -> Tables:
    """Return everything that ``trim --landing`` prints, in reading order."""
    weighed = ready.weighed
    title = f"{ready.aeroplane.title}, set-up {ready.setup.name}: the landing end"
    place = f"Balanced at {LENGTH(weighed.balance_aft_mm)} = {weighed.balance_pct_mac:.1f} % MAC. "
    text = forward_text(landing.forward)
    out: Tables = [heading(title), paragraph(f"{place}{text[0].upper()}{text[1:]}.")]
    out += [paragraph(x) for x in landing_sentences(ready, landing)]
    out += [*_approaches(landing), *_checks(landing.forward), *_gusts(landing.gusts)]
    return out


def _approaches(landing: Landing) -> Tables:
    out = table(
        "Approach and touch-down, as it balances",
        "flap\ndeg", f"stall, power\noff, {SPEED}", f"approach\n{SPEED}", "angle of\nattack, deg",
        "pitch\nsurface, deg", "elevator\nstick, %", "throttle\n%", f"touch-down\n{SPEED}",
        f"full aft stick\nholds it to,\nnominal, {SPEED}", f"so do 95 %\nof draws, {SPEED}", left=0,
    )  # fmt: skip
    for x in landing.approaches:
        trim = x.trim
        cells = (
            f"{trim.alpha_deg:.1f}", signed(trim.tail_deg),
            f"{100.0 * trim.elevator_stick:+.0f}", f"{100.0 * trim.throttle:.0f}",
        )  # fmt: skip
        add(
            out, f"{x.flap_deg:g}", SPEED.figure(x.stall_mps, ".1f"),
            SPEED.figure(x.approach_mps, ".1f"),
            *(cells if trim.found else ("no trim", "-", "-", "-")),
            SPEED.figure(x.touchdown_mps, ".1f"), _held(x.slowest_mps), _held(x.slowest_p95_mps),
        )  # fmt: skip
    values = tables.landing()
    text = (
        f"Approach {values.approach_over_stall:g} x, touch-down {values.touchdown_over_stall:g} x "
        "the stall speed as it balances (the least steady speed where full aft stick ends "
        f"first), or by {values.most_touchdown_deg:g} degrees at touch-down where it stalls "
        "steeper. Level trims, nominal. Full aft stick: power off, near the ground."
    )
    return [out, *notes([text])]


def _held(speed: float) -> str:
    return SPEED.figure(speed, ".1f") if isfinite(speed) else "none"


def _checks(forward: ForwardLimit) -> Tables:
    if not forward.checks:
        return []
    out = table(
        f"Forward limit: foremost balance point with full aft stick, {LENGTH}",
        "asked of the\nelevator stick", "flap\ndeg", f"at\n{SPEED}", "load\ng",
        "by the file's\nown values", "shown by\ndraws", "95 %\nlimits",
    )  # fmt: skip
    for x in forward.checks:
        add(
            out, x.name, f"{x.flap_deg:g}", SPEED.figure(x.speed_mps, ".1f"), f"{x.load_g:g}",
            LENGTH.at_least(aft_whole(x.nominal_mm)), LENGTH.at_least(aft_whole(x.aft_mm)),
            range_cell(*(LENGTH.at_least(aft_whole(end)) for end in (x.low_mm, x.high_mm))),
        )  # fmt: skip
    text = [
        f"Shown: the lower 95 % limit of the share of {forward.draws} draws that have the "
        f"authority is {forward.share_pct:g} % or more. These are draws of their own: a study "
        "and its cards draw with the study's seed, so tell another limit within these limits. By "
        "the file's own values alone nothing is shown: no limit to balance by.",
        "Flare and touch-down: power off, downwash and induced angles as the wheels (or the "
        "belly) touch, so on the safe side for the flare. Rotation: full throttle, the wheels on "
        "short grass.",
        YARDSTICK,
    ]
    return [out, *notes(text)]


def _gusts(gusts: Sequence[GustResponse]) -> Tables:
    out = table(
        "Gusts on the approach, flown level: nominal / worst of the draws",
        f"gust,\n{SPEED} from", "gyro", f"at\n{SPEED}", "most load\ng", "least load\ng",
        "bank\ndeg", "angle of\nattack, deg", "to the\nstall, deg", "beyond\nstall", left=1,
    )  # fmt: skip
    for x in gusts:
        size = x.gust_mps or x.side_gust_mps
        where = "below" if x.gust_mps else "the left"
        pairs = [_pair(x.nominal, x.worst, key) for key in PEAKS]
        add(
            out, f"{SPEED.figure(abs(size), '.1f')} {where}", "on" if x.gyro else "off",
            SPEED.figure(x.speed_mps, ".1f"), *pairs, f"{x.stalled} of {x.draws}",
        )  # fmt: skip
    lengths = " and ".join(HEIGHT.figure(x) for x in sorted({x.length_m for x in gusts}))
    text = (
        f"1-cosine gusts, {lengths} {HEIGHT} long, in level flight at the speed given, the pilot "
    )
    text += "holding it level; worst: each from whichever draw did most, with its wind and gusts."
    return [out, *notes([text])]


def _pair(nominal: Peaks, worst: Peaks, key: str) -> str:
    digits = 1 if key.endswith("_g") else 0
    return " / ".join(
        f"{round(value, digits) + 0.0:.{digits}f}" if isfinite(value) else "-"  # never "-0"
        for value in (getattr(nominal, key), getattr(worst, key))
    )


def windows_table(limits: Sequence[AftLimit]) -> Tables:
    """Return forward limit, aft limit and the window between them, by pack and combination."""
    if not any(x.forward is not None for x in limits):
        return []
    several = several_combinations(limits)
    heads = ("as in",) if several else ()
    out: Table = table(
        "Balance window by pack", "pack", *heads, f"forward\nlimit, {LENGTH}",
        f"95 %\nlimits, {LENGTH}", "decided by",
        f"aft limit\n{LENGTH}", "window", left=1 + len(heads),
    )  # fmt: skip
    for x in limits:
        if x.forward is not None:
            who = (x.as_in,) if several else ()
            add(out, x.pack, *who, *_forward(x.forward),
                "none" if x.aft_mm is None else LENGTH.at_most(x.aft_mm), _window(x))  # fmt: skip
        if x.forward is not None and x.without is not None and x.without.aft_mm is not None:
            blank = ("",) * (len(heads) + 2)
            add(out, "", *blank, f"without {gone_text(x)}", LENGTH.at_most(x.without.aft_mm),
                _window(x.without))  # fmt: skip
    text = [
        "Forward limit: by what full aft stick does to flare, hold off and lift the nose, trims "
        f"over draws; aft limit: by recovery. {_left_out(limits)}"
    ]
    text += [f"{capital(for_whom(x, limits))}{reach_text(x.forward)}." for x in limits
             if x.forward is not None and reach_text(x.forward)]  # fmt: skip
    return [out, *notes([line.strip() for line in text])]


def _left_out(limits: Sequence[AftLimit]) -> str:
    lines = {line for x in limits if x.forward is not None for line in x.forward.left_out}
    return " ".join(f"{line[0].upper()}{line[1:]}." for line in sorted(lines))


def _forward(forward: ForwardLimit) -> tuple[str, ...]:
    decided = forward.decided_by
    if forward.reckoned_mm is not None and decided is not None:
        return "not known", "-", f"refuted: {decided.name}"
    if forward.aft_mm is None or decided is None:
        return "none found", "-", "-"
    low, high = (LENGTH.at_least(aft_whole(x or 0.0)) for x in (forward.low_mm, forward.high_mm))
    name = f"{decided.name}, flap {decided.flap_deg:g}°" if decided.flap_deg else decided.name
    return LENGTH.at_least(aft_whole(forward.aft_mm)), range_cell(low, high), name


def _window(limit: AftLimit) -> str:
    text = short_window(window_of(limit.forward, limit))
    if text.startswith("NO WINDOW"):
        return "NO WINDOW"
    if window_of(limit.forward, limit).kind is Kind.REFUTED:
        return "aft end only"
    return text.removeprefix("balance window ")
