"""Which way surfaces move, to be looked at before a flight."""

from sim.show.console.console import Tables, bullets, paragraph
from sim.show.words.bench.control_check import EDGES, gyro_text, stick_lines
from sim.trim.senses import Senses


def sense_tables(found: Senses) -> Tables:
    """Return where trailing edges go with each stick, and as the gyro answers a hand."""
    lines = stick_lines(found)
    if not lines:
        return []
    gyro = gyro_text(found)
    told = [f"{x[0].upper()}{x[1:]}." for x in lines] + ([gyro] if gyro else [])
    return [paragraph(""), paragraph(f"Control check, {EDGES}:"), *bullets(told)]
