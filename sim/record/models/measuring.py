"""What measuring would change of an aft limit, as a part of records."""

from typing import Annotated

from sim.record.fields import Many, Number, Record, said
from sim.study.limits.interval import forward_mm
from sim.study.results.measuring import Measuring, OwnShare, Promise

OfSpread = Annotated[float, Number("1", 4, "share of the spread of draws' thresholds")]
Gain = Annotated[float, Number("mm", 2, "further aft")]


class PromiseRow(Record):
    """An aft limit with something measured, if that comes out as it stands; reckoned."""

    name: Annotated[str, said("of measuring.toml; together: all of them")]
    text: Annotated[str, said("what is measured")]
    measure: Annotated[str, said("how")]
    assumed: Annotated[bool, said("false: measured already, with the usual error")]
    keys: Annotated[Many[str], said("of the aeroplane's file that become known")]
    share: OfSpread
    share_low: Annotated[float, Number("1", 4, "its lower 95 % limit")]
    share_high: Annotated[float, Number("1", 4, "its upper 95 % limit")]
    told: Annotated[bool, said("it stands out of chance")]
    aft_mm: Annotated[float, Number("mm", 2, "what the limit becomes")]
    aft_low_mm: Annotated[int | None, Number("mm", what="its lower 95 % limit; null: none")]
    aft_high_mm: Annotated[int | None, Number("mm", what="its upper 95 % limit; null: none")]
    gain_mm: Gain
    gain_low_mm: Annotated[float, Number("mm", 2, "its lower 95 % limit")]
    gain_high_mm: Annotated[float, Number("mm", 2, "its upper 95 % limit")]


class LandingPromiseRow(Record):
    """What a forward limit becomes with something measured, if it comes out as in the file."""

    text: Annotated[str, said("what is measured")]
    measure: Annotated[str, said("how")]
    aft_mm: Annotated[float, Number("mm", 2, "what the forward limit becomes")]


class OwnShareRow(Record):
    """What of the method itself holds much of the spread."""

    name: Annotated[str, said("of uncertainty.toml")]
    text: Annotated[str, said("in words")]
    measure: Annotated[str, said("what a flight tells of it; may be empty")]
    share: OfSpread


class MeasuringRow(Record):
    """What measuring would change of an aft limit; shares are null where too few draws tell."""

    manoeuvre: Annotated[str, said("that decides the limit; shares are of it")]
    promises: Annotated[Many[PromiseRow], said("that move the limit visibly, the most first")]
    nearest: Annotated[PromiseRow | None, said("that would move it most; null: none stands out")]
    together: Annotated[PromiseRow | None, said("all that can be measured; null: not told")]
    day_share: Annotated[float | None, Number("1", 4, "the pilot's and the day's")]
    method_share: Annotated[float | None, Number("1", 4, "the method's own")]
    untraced_share: Annotated[float | None, Number("1", 4, "goes with no single draw")]
    own: Annotated[Many[OwnShareRow], said("the strongest of the method's own")]
    lost: Annotated[int, Number("draws", what="lost somewhere, which tell")]


def measuring_row(found: Measuring | None) -> MeasuringRow | None:
    """Return the row of what measuring would change."""
    if found is None:
        return None
    return MeasuringRow(
        manoeuvre=found.manoeuvre,
        promises=[_promise(x) for x in found.promises],
        nearest=None if found.nearest is None else _promise(found.nearest),
        together=None if found.together is None else _promise(found.together),
        day_share=found.day_share,
        method_share=found.method_share,
        untraced_share=found.untraced_share,
        own=[_own(x) for x in found.own],
        lost=found.lost,
    )


def _promise(one: Promise) -> PromiseRow:
    return PromiseRow(
        name=one.name, text=one.text, measure=one.measure, assumed=one.assumed, keys=one.keys,
        share=one.share, share_low=one.share_low, share_high=one.share_high, told=one.told,
        aft_mm=one.aft_mm, aft_low_mm=forward_mm(one.low_mm), aft_high_mm=forward_mm(one.high_mm),
        gain_mm=one.gain_mm, gain_low_mm=one.gain_low_mm, gain_high_mm=one.gain_high_mm,
    )  # fmt: skip


def _own(one: OwnShare) -> OwnShareRow:
    return OwnShareRow.model_validate(one)
