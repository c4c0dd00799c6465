"""The record of trace: what was written into a file, and what is doubtful."""

from collections.abc import Sequence
from typing import Annotated, Literal

from pydantic import Field

from sim.record.fields import Kind, Many, Number, Record, said
from sim.trace.points import View
from sim.trace.traced import Traced
from sim.trace.writing import Line
from sim.version import __version__


class WrittenRow(Record):
    """One key of the file, as it was and as it is."""

    key: Annotated[str, said("its path; its unit is in its name")]
    was: Annotated[str, said("as printed; - where it was not there")]
    now: Annotated[str, said("as printed")]


class TraceRecord(Kind):
    """What a picture's points changed in a file."""

    kind: Literal["aftlimit.trace/1"] = Field(alias="schema")
    into: Annotated[str, said("the file written")]
    view: Annotated[View, said("seen from where")]
    body_length_mm: Annotated[float, Number("mm", 1, "nose to the very end, as clicked")]
    scale_error_pct: Annotated[float | None, Number("%", 2, "of a second length; null: none given")]
    written: Annotated[Many[WrittenRow], said("key by key; empty: it agrees with the picture")]
    remarks: Annotated[Many[str], said("what the picture cannot tell")]
    doubts: Annotated[Many[str], said("what is doubtful")]


def trace_record(
    into: str, found: Traced, told: Sequence[Line], remarks: Sequence[str], doubts: Sequence[str]
) -> TraceRecord:
    """Return the record of points written into a file."""
    return TraceRecord(
        schema="aftlimit.trace/1",
        version=__version__,
        into=into,
        view=found.view,
        body_length_mm=found.length,
        scale_error_pct=found.check_error_pct,
        written=[WrittenRow(key=key, was=was, now=now) for key, was, now in told],
        remarks=remarks,
        doubts=doubts,
    )
