"""What measuring would change of an aft limit, for the report."""

from sim.show.report.parts import Bullets, Part, Section, Table, section
from sim.show.words.findings.measuring import (
    MEASURING_TITLE,
    measuring_heads,
    measuring_rows,
    measuring_sentences,
    told_limit,
)
from sim.study.results.result import StudyResult


def measuring(result: StudyResult) -> Section | None:
    """Return what to measure, what the limit becomes, and what holds the rest; maybe nothing."""
    limit = told_limit(result)
    if limit is None or limit.measuring is None:
        return None
    rows = measuring_rows(limit.measuring)
    heads = [head.replace("\n", " ") for head in measuring_heads()]
    cells = [[cell.replace("\n", " ") for cell in row] for row in rows]
    shown: list[Part] = (
        [Table("Worth measuring, the best first", heads, cells, words=3)] if rows else []
    )
    return section(MEASURING_TITLE, *shown, Bullets(measuring_sentences(limit, result)))
