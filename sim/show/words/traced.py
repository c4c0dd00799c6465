"""What tracing a picture changed, in words."""

from collections.abc import Sequence
from pathlib import Path

from sim.trace.frame import CHECK_TOLD
from sim.trace.traced import Traced
from sim.trace.writing import Line


def traced_lines(told: Sequence[Line], found: Traced, into: Path, answers: bool) -> list[str]:
    """Return a line a key that changed, what the picture cannot tell, and what comes next.

    ``answers``: they are those of ``start``, which asks the rest; else an aeroplane's keys.
    """
    lines = [f"{key}: {was} -> {now}" for key, was, now in told]
    if not lines:
        return [f"{into}: nothing changed; it agrees with the picture."]
    unseen = {
        "top": "Heights, dihedral, fins, flaps and all masses are as they were",
        "side": "Widths, spans, flaps and all masses are as they were",
    }
    keys = "key" if len(told) == 1 else "keys"
    said = f"{into}: {len(told)} {keys} written. {unseen[found.view]}"
    if answers:
        folder = into.parent
        at = f"'aftlimit start {folder}'" if folder.name else "'aftlimit start', in its folder,"
        return [*lines, f"{into}: {len(told)} {keys} written; {at} asks the rest."]
    return [*lines, f"{said}: look at it with 'aftlimit sketch'."]


def doubts_of(found: Traced) -> list[str]:
    """Return what is doubtful about the picture's scale."""
    error = found.check_error_pct
    if error is None:
        return ["No second known length was given, so nothing checks the scale"]
    if abs(error) <= CHECK_TOLD:
        return []
    text = f"The second known length comes out {error:+.1f} %: taken too near or not straight on?"
    return [f"{text} Lengths along it are off by as much"]
