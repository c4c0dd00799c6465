"""The tables of one flight: verdict, heights, peaks, events."""

from collections.abc import Sequence
from math import degrees

from rich.table import Table

from sim.core import script_layout as s
from sim.fly.flying import Flight
from sim.judge import Event, Reason, Verdict, mode_name, reasons_of
from sim.show.console.console import Tables, add, heading, paragraph, table
from sim.show.words.phrases import CAUTION
from sim.units.quantities import HEIGHT, SPEED

VERDICT_WORDS = {
    Verdict.HELD: "held: it did not depart",
    Verdict.RECOVERED: "recovered: it departed and flew away above the floor",
    Verdict.UNRESOLVED: "unresolved: the flight could not be calculated to its end",
}


def _told(flight: Flight, verdict: Verdict, entry_m: float, floor_m: float) -> str:
    """Return the verdict in words, with the heights it was given for."""
    why = reasons_of(flight.summary[None, :], entry_m, floor_m)[0]
    if verdict is Verdict.UNRESOLVED:
        return f"{VERDICT_WORDS[verdict]}: {why.value}"
    if verdict is not Verdict.LOST:
        return f"{VERDICT_WORDS[verdict]} (entered at {HEIGHT(entry_m)}, floor {HEIGHT(floor_m)})"
    if why is Reason.NEVER:
        return "lost: it never came back"
    if why is Reason.SANK:
        return f"lost: it {why.value}"
    if why is Reason.DEEP_STALL:
        hung = flight.summary[s.R_HUNG_FOR]
        return f"lost: it hung in a deep stall, for {hung:.0f} s, and never came back"
    used = flight.summary[s.R_DROP]
    how = "it came back, but too low"
    if why is Reason.HUNG_LATE:
        hung = flight.summary[s.R_HUNG_FOR]
        how = f"it hung in a deep stall for {hung:.0f} s and came back too low"
    if why is Reason.ENTRY:
        how = "it came back, but the manoeuvre itself had used the height"
    return (
        f"lost: {how}; it needs {HEIGHT(used + floor_m)} ({HEIGHT(used)} and the floor "
        f"of {HEIGHT(floor_m)}) and was entered at {HEIGHT(entry_m)}"
    )


def flight_tables(
    flight: Flight, verdict: Verdict, events: Sequence[Event], entry_m: float, floor_m: float,
    carried: Tables | None = None, headline: Sequence[str] = (),
) -> Tables:  # fmt: skip
    """Return verdict, numbers and events of one flight entered at a height over a floor [m].

    ``carried`` tells of servos and structure, ``headline`` what the verdict does not say: whether
    it did what it was flown for, and what it passed of servos and structure.
    """
    side = "right" if flight.side > 0.0 else "left"
    title = f"{flight.assembled.aeroplane.title}, set-up {flight.assembled.setup.name}"
    flown = f"{flight.manoeuvre.title}, to the {side}; then {flight.recovery.title}"
    return [
        heading(title),
        paragraph(flown),
        paragraph(f"Verdict: {_told(flight, verdict, entry_m, floor_m)}.", style="bold"),
        *(paragraph(line, style="bold") for line in headline),
        _numbers(flight),
        _events(events),
        *(carried or []),
        paragraph(""),
        paragraph(f"One flight is never a verdict on a set-up. Caution: {CAUTION}"),
    ]


def _numbers(flight: Flight) -> Table:
    r = flight.summary
    back = r[s.R_BACK] > 0.0
    more = "" if back else "more than "
    rows = [
        ("height lost before the first recovery input", HEIGHT(r[s.R_DROP_ENTRY])),
        ("height lost from there to level", f"{more}{HEIGHT(r[s.R_HEIGHT_LOST])}"),
        ("of it after rotation stopped", HEIGHT(r[s.R_PULL_OUT]) if back else "never stopped"),
        ("height lost in all", f"{more}{HEIGHT(r[s.R_DROP])}"),
        ("highest angle of attack", f"{degrees(r[s.R_PEAK_ALPHA]):.0f} deg"),
        ("lowest angle of attack", f"{round(degrees(r[s.R_LEAST_ALPHA]))} deg"),
        ("fastest turn about the vertical", f"{degrees(r[s.R_PEAK_YAW]):.0f} deg/s"),
        ("highest load factor", f"{r[s.R_PEAK_LOAD]:+.1f} g"),
        ("highest airspeed", SPEED(r[s.R_PEAK_SPEED])),
        ("longest beyond 50 deg", f"{r[s.R_HIGH_FOR]:.1f} s"),
        ("most turns about any axis while stalled", f"{r[s.R_STALLED_TURNS]:.1f}"),
        ("turns before the recovery", f"{abs(r[s.R_TURNS_ENTRY]):.1f}"),
        ("turns after its first input", f"{abs(r[s.R_TURNS_RECOVERY]):.1f}"),
    ]
    if r[s.R_SPUN] > 0.0:
        rows += [
            ("spin", mode_name(r[s.R_SPIN_ALPHA], r[s.R_SPIN_SWING])),
            ("its angle of attack", f"{degrees(r[s.R_SPIN_ALPHA]):.0f} deg"),
            ("its turn about the vertical", f"{abs(degrees(r[s.R_SPIN_YAW])):.0f} deg/s"),
            ("its sink", SPEED(r[s.R_SPIN_SINK], ".1f")),
        ]
    out = table("Numbers", "what", "value")
    for name, value in rows:
        add(out, name, value)
    return out


def _events(events: Sequence[Event]) -> Table:
    out = table("Events", "event", "time, s", f"height lost so far, {HEIGHT}")
    for event in events:
        add(out, event.name, f"{event.time_s:.2f}", HEIGHT.figure(event.height_lost_m))
    if not events:
        add(out, "none", "-", "-")
    return out
