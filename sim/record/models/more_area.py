"""What a larger elevator does for a forward limit."""

from typing import Annotated

from sim.landing.more_area import MoreArea
from sim.record.fields import Number, Record, said


class MoreAreaRow(Record):
    """What a larger elevator does for the forward limit; nothing was flown with it."""

    goal_mm: Annotated[float, Number("mm", 1, "balance point it was to reach")]
    surface: Annotated[str, said("that the elevator is a part of, or all of")]
    key: Annotated[str, said("chord_pct of a flap, panel_span_mm of a whole surface")]
    now: Annotated[float, Number("% or mm", 1, "as the file has it")]
    value: Annotated[float, Number("% or mm", 1, "the larger one")]
    aft_mm: Annotated[float | None, Number("mm", 1, "limit shown by draws; null: none found")]
    low_mm: Annotated[float | None, Number("mm", 1, "lower 95 % limit, forward")]
    high_mm: Annotated[float | None, Number("mm", 1, "upper 95 % limit, aft")]
    reached: Annotated[bool, said("true: the limit shown by draws reaches it")]


def more_area_row(more: MoreArea | None) -> MoreAreaRow | None:
    """Return the row of what more area does, None where it was not looked at."""
    return None if more is None else MoreAreaRow.model_validate(more)
