"""What more travel of the pitch surface does for a forward limit."""

from typing import Annotated

from sim.landing.more_throw import Ended, MoreThrow, Travel
from sim.record.fields import Lax, Many, Number, Record, said


class TravelRow(Record):
    """The forward limit with one travel of the pitch surface."""

    deg: Annotated[float, Number("degrees", 1, "full aft stick, the pitch surface")]
    mm: Annotated[float, Number("mm", 1, "its trailing edge, from its middle")]
    aft_mm: Annotated[float | None, Number("mm", 1, "limit shown by draws; null: none found")]
    low_mm: Annotated[float | None, Number("mm", 1, "lower 95 % limit, forward")]
    high_mm: Annotated[float | None, Number("mm", 1, "upper 95 % limit, aft")]
    nominal_mm: Annotated[float | None, Number("mm", 1, "of the nominal aeroplane")]
    decided_by: Annotated[str | None, said("the check it comes from")]


class MoreThrowRow(Record):
    """What more travel with full aft stick does for the forward limit; nothing was flown with it.

    ``best`` is the least travel, in whole degrees, that was found to reach it.
    """

    goal_mm: Annotated[float, Number("mm", 1, "balance point it was to reach")]
    channel: Annotated[str, said("moves the surface whose travel is told")]
    others: Annotated[Many[str], said("channels that move in proportion")]
    up: Annotated[bool, said("true: trailing edge up; false: down")]
    now: Annotated[TravelRow, said("as the set-up has it")]
    best: Annotated[TravelRow | None, said("else that of the foremost limit; null: none tried")]
    tried: Annotated[int, Number("travels", what="looked at")]
    reached: Annotated[bool, said("true: the limit shown by draws reaches it")]
    nominally: Annotated[bool, said("true: the nominal limit does, with the best travel")]
    ended: Annotated[Lax[Ended], said("why no more were looked at")]


def more_throw_row(more: MoreThrow | None) -> MoreThrowRow | None:
    """Return the row of what more throw does, None where it was not looked at."""
    if more is None:
        return None
    return MoreThrowRow(
        goal_mm=more.goal_mm,
        channel=more.channel,
        others=more.others,
        up=more.up,
        now=_travel(more.now),
        best=None if more.best is None else _travel(more.best),
        tried=more.tried,
        reached=more.reached,
        nominally=more.nominally,
        ended=more.ended,
    )


def _travel(travel: Travel) -> TravelRow:
    return TravelRow.model_validate(travel)
