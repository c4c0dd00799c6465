"""Flight time, timer and what full throttle is too much for, in a pilot's words."""

from collections.abc import Sequence

from sim import tables
from sim.power.full_load import TooMuch
from sim.show.words.phrases import listed
from sim.study.results.flight_time import FlightTime, Work
from sim.study.results.set_up import SetUpResult
from sim.units.quantities import SPEED

WORK_WORDS = {
    "cruise": "cruise",
    "manoeuvring": "manoeuvring at full throttle",
    "climb": "climb at full throttle",
    "high_alpha": "slow pass at a high angle",
}


def minutes_text(time: FlightTime) -> str:
    """Return "5.2 (4.4-6.4)"."""
    x = time.minutes
    return f"{x.middle:.1f} ({x.low:.1f}-{x.high:.1f})"


def timer_minutes(time: FlightTime) -> str:
    """Return what a timer is set to, "4 min", or that it is too short for one."""
    least = tables.flight_time().timer_step_min
    return f"{time.timer_min:g} min" if time.timer_min > 0.0 else f"under {least:g} min: do not fly"


def too_much_text(x: TooMuch) -> str:
    """Return what full throttle is too much for, in a clause."""
    if x.what == "controller":
        return (
            f"full throttle asks {x.asked:.3g} A of a motor whose controller is limited to "
            f"{x.allowed:.3g} A"
        )
    if x.what == "cell":
        return (
            f"near the end of the flight full throttle takes a cell down to {x.asked:.2f} V, "
            f"below {x.allowed:.1f} V: controllers begin to cut power there"
        )
    kind = "burst" if x.what == "burst" else "lasting"
    return (
        f"full throttle takes {x.asked:.3g} A of a pack whose {kind} current is {x.allowed:.3g} A "
        "by its label"
    )


def untimed(setup: SetUpResult) -> str:
    """Return why a set-up has no flight time."""
    return "no level flight" if setup.trim.descent_deg is None else "not told: no motor"


def too_much_texts(setup: SetUpResult) -> list[str]:
    """Return what full throttle is too much for, of a set-up."""
    time = setup.flight_time
    return [] if time is None else [too_much_text(x) for x in time.load.too_much]


def warnings_of(setups: Sequence[SetUpResult]) -> list[str]:
    """Return what full throttle is too much for, set-up by set-up; the same one said once."""
    said: dict[str, list[str]] = {}
    for x in setups:
        for text in too_much_texts(x):
            said.setdefault(text, []).append(x.name)
    return [f"{listed(names)}: {text}." for text, names in said.items()]


def work_text(work: Work) -> str:
    """Return "60 % cruise at 28 m/s (18 A)"."""
    held = "" if work.holds else ", which does not hold it level"
    return (
        f"{work.share_pct:g} % {WORK_WORDS[work.name]} at {SPEED(work.speed_mps)} "
        f"({work.current_a:.0f} A{held})"
    )


def mix_text(time: FlightTime) -> str:
    """Return what the time is shared out to, in a sentence."""
    works = listed([work_text(x) for x in time.works if x.share_pct > 0.0])
    whose = "shares assumed, give your own in [duty]" if time.assumed else "shares as given"
    return f"{works}; {whose}"


def why_shorter_text(setup: SetUpResult) -> str:
    """Return what level cruise alone would give, and why it is longer, in a sentence."""
    time, slow = setup.flight_time, setup.trim
    assert time is not None
    cruise = time.works[0]
    full = max(x.current_a for x in time.works)
    slower = slow.found and slow.speed_mps < cruise.speed_mps
    at_trim = f"{slow.current_a:.0f} A at {SPEED(slow.speed_mps)}, " if slower else ""
    return (
        f"Level cruise alone would give {time.cruise_alone_min:.0f} min: level flight takes "
        f"{at_trim}{cruise.current_a:.0f} A at the {SPEED(cruise.speed_mps)} that are flown, full "
        f"throttle {full:.0f} A; a timer from it loses aeroplanes"
    )


def charge_text(time: FlightTime, capacity_mah: float) -> str:
    """Return what of the pack may be used."""
    share = 100.0 * time.usable_mah / capacity_mah
    return f"usable {time.usable_mah:.0f} mAh ({share:.0f} % of the label)"


def told_text(time: FlightTime) -> str:
    """Return how minutes and timer are to be read."""
    table = tables.flight_time()
    return (
        f"To {time.reserve_pct:g} % left of what the pack holds, which is less than its label "
        f"({100.0 * table.capacity_share.ordinary:.0f} % in ordinary condition). Timer: "
        f"what {100.0 * table.timer_share:.0f} % of draws (resistance, age, drag, mix) outlast, "
        f"rounded down to {table.timer_step_min:g} min. It is for the first flights: then write "
        "mah_put_back and after_minutes into the set-up, which beats it."
    )
