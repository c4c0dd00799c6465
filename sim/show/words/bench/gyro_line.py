"""A set-up's gyro in one line: each axis inside, OVER or BACKWARDS against what it stands."""

from collections.abc import Iterator, Sequence

from sim import tables
from sim.gyro.advice import SetAgainst, set_against, to_the_end, worst_over
from sim.gyro.allowed import Allowed, At
from sim.gyro.motion import AXES
from sim.show.words.phrases import listed
from sim.study.gyro_check import GyroCheck
from sim.units.quantities import SPEED


def gyro_line(check: GyroCheck | None) -> str:
    """Return the line of a set-up whose gyro is on; None: nobody has looked."""
    if check is None:
        return "Not checked: see aftlimit gains."
    if check.found is None:
        return f"NOT CHECKED: {check.why}. Fly with it off."
    found, each = check.found, set_against(check.found)
    inside = [AXES[one.axis] for one in each if not one.backwards and not one.over]
    share = f"{100 * tables.gyro_loop().kept_share:.0f} % of {found.draws} draws"
    parts = list(_beyond(found, each))
    if inside:
        parts.append(f"{', '.join(inside)} inside")
    line = "; ".join(parts)
    line = line[:1].upper() + line[1:]
    if len(inside) == len(each):
        return f"{line} to the idle dive ({share})."
    return f"{line}. Allowed by {share}; see aftlimit gains."


def _beyond(found: Allowed, each: Sequence[SetAgainst]) -> Iterator[str]:
    """Yield what is not inside, axes that are over at the same speeds together."""
    yield from (
        f"{AXES[one.axis]} BACKWARDS, feeds every turn: reverse it" for one in each if one.backwards
    )
    over: dict[str, list[SetAgainst]] = {}
    for one in each:
        if one.over and not one.backwards:
            over.setdefault(_where(found, one), []).append(one)
    for where, them in over.items():
        names = ", ".join(AXES[one.axis] for one in them)
        yield f"{names} OVER {where} ({_worst(them)})"


def _worst(them: Sequence[SetAgainst]) -> str:
    """Return the gain that is the furthest over, of what is allowed."""
    pairs = [(AXES[one.axis], worst_over(one)[1]) for one in them]
    name, axis = max(pairs, key=lambda x: (x[1].set_gain or 0.0) / max(x[1].advised, 1e-9))
    told = f"{axis.set_gain:.3f} of {axis.advised:.3f}"
    return told if len(them) == 1 else f"{name} {told}"


def _where(found: Allowed, one: SetAgainst) -> str:
    """Return where an axis is over, and where it swings on its own."""
    text = _places(found, one.over)
    return f"{text}, SWINGS {_places(found, one.swings)}" if one.swings else text


def _places(found: Allowed, over: Sequence[At]) -> str:
    """Return where: at every speed, from one on, or each by its name."""
    if len(over) == len(found.points):
        return "at every speed"
    if to_the_end(found, over):
        return f"from {SPEED(over[0].point.speed_mps)} on"
    return listed([_place(found, at) for at in over])


def _place(found: Allowed, at: At) -> str:
    if at.point.dive:
        return "in an idle dive"
    if at is found.points[0]:
        return "at the approach"
    if at is found.points[-2]:
        return "at top speed"
    return f"at {SPEED(at.point.speed_mps)}"
