"""Which way surfaces move with the sticks, in records of several commands."""

from typing import Annotated

from sim.record.fields import Lax, Number, Record, said
from sim.trim.senses import Senses, Way


class SenseRow(Record):
    """What a stick, back or to the right, does to one channel."""

    channel: Annotated[str, said("the channel")]
    stick: Annotated[str, said("elevator: back; aileron and rudder: right")]
    share: Annotated[float, Number("1", 4, "as in the file, channels.X.stick")]
    right: Annotated[Lax[Way], said("where the trailing edge of the right, or only, panel goes")]
    left: Annotated[Lax[Way] | None, said("of the left panel; null: there is one panel")]
    against: Annotated[bool, said("the stick turns the aeroplane the wrong way by it, nominal")]


def sense_rows(found: Senses) -> list[SenseRow]:
    """Return a row for each channel and stick that moves it."""
    return [
        SenseRow(
            channel=x.channel, stick=x.stick, share=x.share, right=x.right, left=x.left,
            against=x in found.against,
        )
        for x in found.each
    ]  # fmt: skip
