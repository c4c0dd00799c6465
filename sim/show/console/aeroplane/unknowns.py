"""What nobody measured of an aeroplane, for the terminal."""

from collections.abc import Sequence

from sim.pack.unknowns import Unknown
from sim.show.console.console import Tables, add, notes, paragraph, table
from sim.show.words.unknowns import unknown_rows, unknown_sentences


def unknown_tables(found: Sequence[Unknown]) -> Tables:
    """Return what to measure, by what weighing shows of it, or a line that all is measured."""
    rows, said = unknown_rows(found), notes(unknown_sentences(found))
    if not rows:
        return [paragraph(""), *said]
    out = table("Not measured", "what", "how to measure it", "leaves open", left=3)
    for row in rows:
        add(out, *row)
    return [out, *said]
