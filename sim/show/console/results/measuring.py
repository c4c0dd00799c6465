"""What measuring would change of an aft limit, for the terminal."""

from sim.show.console.console import Tables, add, notes, paragraph, table
from sim.show.words.findings.measuring import (
    MEASURING_TITLE,
    measuring_heads,
    measuring_rows,
    measuring_sentences,
    told_limit,
)
from sim.study.results.result import StudyResult


def measuring_tables(result: StudyResult) -> Tables:
    """Return what to measure, what the limit becomes, and what holds the rest; maybe nothing."""
    limit = told_limit(result)
    if limit is None or limit.measuring is None:
        return []
    rows, said = measuring_rows(limit.measuring), notes(measuring_sentences(limit, result))
    if not rows:
        return [paragraph(""), paragraph(MEASURING_TITLE, "bold"), *said]
    out = table(MEASURING_TITLE, *measuring_heads(), left=3)
    for row in rows:
        add(out, *row)
    return [out, *said]
