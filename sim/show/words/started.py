"""What a newcomer's file holds, and what to do with it next."""

from pathlib import Path

from sim import tables
from sim.describe import Aeroplane
from sim.pack.known import known_spread, unmeasured
from sim.units.quantities import LENGTH, LOADING, MASS, SPEED
from sim.weigh import Weighed, weigh_set_up
from sim.weigh.facts import facts_of
from sim.weigh.rough import static_margin_pct

TOLD = 3


def _widest(aeroplane: Aeroplane) -> str:
    """Return what widens its draw most, against that of an aeroplane measured throughout."""
    usual = {x.name: x for x in tables.uncertainty().entries}
    found = {x.widening.draw: x.widening for x in unmeasured(aeroplane)}
    wider = {name: known_spread(aeroplane, usual[name]).sd / usual[name].sd for name in found}
    first = sorted(found, key=lambda name: -wider[name])[:TOLD]
    return "; ".join(f"{found[name].text} ({found[name].measure})" for name in first)


def _little_margin(aeroplane: Aeroplane) -> list[str]:
    """Return that it balances far aft for how it looks, which a wrongly measured one does.

    Of one with a tailplane: without one the rough rule is some 6 % off.
    """
    facts = {name: fact.value for name, fact in facts_of(aeroplane).items()}
    if "tail_span_mm" not in facts:
        return []
    try:
        rough = static_margin_pct(facts)
    except KeyError:  # too little is known of it
        return []
    usual = tables.plausible().little_margin_pct
    if rough >= usual:
        return []
    return [
        f"CAREFUL: roughly reckoned its static margin is {rough:.0f} % MAC, and {usual:g} or more "
        "is usual: was the balance measured from the wing's leading edge? Measure it once more."
    ]


def _look_again(aeroplane: Aeroplane, weighed: Weighed) -> list[str]:
    """Return what follows from its weight and its balance, for its pilot to hold against it.

    Nothing measured tells which pack was in it, nor, of a wing that runs through the body, whether
    a place was read from its front point instead of from x.
    """
    name = weighed.setup.pack
    pack = aeroplane.packs[name]
    bare = 1000.0 * weighed.mass_kg - pack.mass_g
    told = f"Weighed with {name} in it, {MASS(pack.mass_g)}: {MASS(bare)} without a pack"
    wing = aeroplane.surfaces_as("wing")[0]
    front = weighed.balance_aft_mm - wing.root_aft_mm
    if aeroplane.kind == "delta" and wing.root_aft_mm < 0.0:
        told += f". Balanced {LENGTH(front)} behind the wing's front point, in the middle"
    return [f"{told}. If not so, an answer is wrong."]


def _stall_text(mps: float) -> str:
    """Return its stall [m/s], for its pilot to hold against what he saw in flight."""
    return (
        f" It stalls at {SPEED(mps, '.1f')}, level, power off, by this: if you saw it stall at "
        "another speed, look at weight, wing and thickness."
    )


def started_lines(
    aeroplane: Aeroplane, path: Path, questions: int, minutes: float, wheeled: bool = False,
    stall_mps: float | None = None,
) -> list[str]:  # fmt: skip
    """Return what was written, what it weighs, what is assumed.

    ``wheeled``: it was said to have wheels. ``stall_mps`` is its stall, power off [m/s].
    """
    weighed = weigh_set_up(aeroplane)
    told = f"{path} is written"
    if questions:
        told += f": {questions} questions in {minutes:.0f} minutes"
    lines = [
        f"{told}. Every key in it may be changed.",
        f"{MASS(1000.0 * weighed.mass_kg)}, balanced at {LENGTH(weighed.balance_aft_mm)}, "
        f"{weighed.balance_pct_mac:.0f} % MAC, {LOADING(10.0 * weighed.wing_loading_kg_m2)}."
        + ("" if stall_mps is None else _stall_text(stall_mps)),
        f"Not measured, and so drawn wider, most of all: {_widest(aeroplane)}. All of it stands in "
        "the file's list assumed.",
    ]  # fmt: skip
    lines += _look_again(aeroplane, weighed)
    lines += _little_margin(aeroplane)
    if wheeled and aeroplane.undercarriage is None:
        lines.append(
            "Where its wheels touch the ground is not told, so how it lifts its nose to take off "
            "is not looked at: [undercarriage] in the file has place for it."
        )
    if "more_throw" in aeroplane.setups:
        lines.append(f"The study flies this too: {aeroplane.setups['more_throw'].title}.")
    if aeroplane.gyro is not None:
        until = "its gains are measured and " if "gyro" in aeroplane.assumed else ""
        lines.append(f"Flown without its gyro until {until}a set-up says so.")
    return lines


def next_line(path: Path, picture: Path | None) -> str:
    """Return the next commands, with the picture to look at where there is one."""
    look = "" if picture is None else f"look at its picture, {picture}, then  "
    return f"Next: {look}aftlimit weigh {path}  and  aftlimit study {path}"
