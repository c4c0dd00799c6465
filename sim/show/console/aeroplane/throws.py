"""Throws of a set-up, in degrees and at the trailing edge."""

from sim.show.console.console import Tables, add, table
from sim.show.words.bench.throws import Throw
from sim.units.quantities import LENGTH


def throw_tables(throws: list[Throw]) -> Tables:
    """Return what each stick moves at full stick, degrees and mm at the trailing edge."""
    if not throws:
        return []
    out = table("Throws", "surface", "stick", "up (left)", "down (right)", left=2)
    for x in throws:
        up, down = (
            f"{deg:.1f}°, {LENGTH(mm, '.1f')}"
            for deg, mm in ((x.up_deg, x.up_mm), (x.down_deg, x.down_mm))
        )
        add(out, x.channel, x.stick, up, down)
    return [out]
