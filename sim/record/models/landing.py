"""The landing end: forward limits, windows, approach, flap and gusts."""

from typing import Annotated, Literal, TypedDict

from pydantic import Field

from sim.landing.approach import Approach, FlapChange
from sim.landing.forward import ForwardLimit
from sim.landing.gusts import GustResponse, Peaks
from sim.landing.landing import Landing
from sim.pack.assemble import Assembled
from sim.record.fields import Kind, Lax, Many, Number, Record, said
from sim.record.models.more_throw import MoreThrowRow, more_throw_row
from sim.study.results.aft_limit import AftLimit
from sim.study.standing import window
from sim.version import __version__

Mm = Annotated[float, Number("mm", 1, "balance point aft of the datum")]
MaybeMm = Annotated[float | None, Number("mm", 1, "aft of the datum; null: none found")]
Speed = Annotated[float, Number("m/s", 2, "through the air")]
Flap = Annotated[float, Number("degrees", 2, "where the flap stands, down plus")]


class CheckRow(Record):
    """The foremost balance point for one thing asked of full aft stick."""

    name: Annotated[str, said("flare, touch-down or rotation")]
    flap_deg: Flap
    speed_mps: Speed
    load_g: Annotated[float, Number("g", 2, "load factor")]
    nominal_mm: Mm
    aft_mm: Annotated[float, Number("mm", 1, "shown by the share of draws asked for")]
    low_mm: Annotated[float, Number("mm", 1, "lower 95 % limit, forward")]
    high_mm: Annotated[float, Number("mm", 1, "upper 95 % limit, aft")]


class ForwardRow(Record):
    """How far forward a pack and combination may balance and still land and take off."""

    aft_mm: MaybeMm
    low_mm: Annotated[float | None, Number("mm", 1, "lower 95 % limit, forward")]
    high_mm: Annotated[float | None, Number("mm", 1, "upper 95 % limit, aft")]
    pct_mac: Annotated[float | None, Number("% MAC", 2, "the limit")]
    nominal_mm: Annotated[float | None, Number("mm", 1, "of the nominal aeroplane")]
    decided_by: Annotated[str | None, said("the check it comes from; null: none found")]
    checks: Annotated[Many[CheckRow], said("one by one")]
    draws: Annotated[int, Number("draws", what="trimmed for each check")]
    required_share_pct: Annotated[float, Number("%", what="of draws with the authority")]
    pack_reaches_mm: Annotated[float, Number("mm", 1, "foremost, by the pack alone")]
    neutral_mm: Annotated[float | None, Number("mm", 1, "neutral point; null: no level flight")]
    ahead_of_neutral_pct: Annotated[
        float | None, Number("% MAC", 2, "from the limit to it; below 0: limit behind it")
    ]
    left_out: Annotated[Many[str], said("what was not looked at, and why")]


class WindowRow(Record):
    """From where to where a pack and combination lands, takes off and comes back."""

    kind: Annotated[Lax[window.Kind], said("whether there is one")]
    front_mm: Annotated[float | None, Number("mm", 1, "null: no window")]
    aft_mm: Annotated[float | None, Number("mm", 1, "null: no window")]
    forward_limit_mm: Annotated[float | None, Number("mm", 1, "by authority; null: not found")]
    flown_from_mm: Annotated[float | None, Number("mm", 1, "foremost shown to come back")]
    at_end: Annotated[bool, said("true: the aft limit lies beyond")]


class ApproachRow(Record):
    """How the set-up comes in with its flap at one position."""

    flap_deg: Flap
    stall_speed_mps: Annotated[float, Number("m/s", 2, "slowest level flight, power off")]
    approach_mps: Speed
    touchdown_mps: Speed
    trim_found: Annotated[bool, said("false: no level flight at the approach speed")]
    alpha_deg: Annotated[float, Number("degrees", 2, "level at the approach speed")]
    tail_deg: Annotated[float, Number("degrees", 2, "pitch surface, edge down plus")]
    elevator_stick: Annotated[float, Number("1", 3, "aft plus")]
    throttle: Annotated[float, Number("1", 3, "of full")]
    slowest_mps: Annotated[
        float | None, Number("m/s", 2, "full aft stick near the ground, nominal; null: none")
    ]
    slowest_p95_mps: Annotated[float | None, Number("m/s", 2, "of 95 % of draws; null: none")]


class FlapRow(Record):
    """What lowering the flap does at one speed, lowered less neutral."""

    speed_mps: Speed
    flap_deg: Flap
    alpha_deg: Annotated[float, Number("degrees", 2, "in level flight")]
    tail_deg: Annotated[float, Number("degrees", 2, "in level flight, edge down plus")]
    elevator_stick: Annotated[float, Number("1", 3, "aft plus")]
    throttle: Annotated[float, Number("1", 3, "of full")]
    pitch_dps2: Annotated[float, Number("degrees/s2", 1, "at once, sticks held, nose up plus")]
    load_g: Annotated[float, Number("g", 2, "by which it balloons at once, sticks held")]


class PeaksRow(Record):
    """Extremes in a gust."""

    most_load_g: Annotated[float | None, Number("g", 2, "greatest load factor")]
    least_load_g: Annotated[float | None, Number("g", 2, "least load factor")]
    bank_deg: Annotated[float, Number("degrees", 1, "either way")]
    alpha_deg: Annotated[float, Number("degrees", 1, "greatest angle of attack")]
    margin_deg: Annotated[float, Number("degrees", 1, "to the nominal stall; below 0 beyond")]


class GustRow(Record):
    """One gust on the approach, flown."""

    manoeuvre: Annotated[str, said("as flown")]
    gust_mps: Annotated[float, Number("m/s", 1, "from below plus")]
    side_gust_mps: Annotated[float, Number("m/s", 1, "from the left plus")]
    length_m: Annotated[float, Number("m", 1, "of the gust")]
    speed_mps: Speed
    gyro: Annotated[bool, said("true: on")]
    nominal: Annotated[PeaksRow, said("the aeroplane as described")]
    worst: Annotated[PeaksRow, said("of each, over draws")]
    draws: Annotated[int, Number("draws", what="flown")]
    stalled: Annotated[int, Number("draws", what="beyond the nominal stall's angle")]


class LandingRecord(Kind):
    """Approach, forward limit and gusts of a set-up."""

    kind: Literal["aftlimit.landing/1"] = Field(alias="schema")
    aeroplane: Annotated[str, said("its name")]
    setup: Annotated[str, said("its name")]
    balance_aft_mm: Mm
    approaches: Annotated[Many[ApproachRow], said("by flap")]
    flap: Annotated[FlapRow | None, said("null: no flap, or no trim with it")]
    forward_limit: Annotated[ForwardRow, said("of its pack and combination")]
    rotation_mps: Annotated[
        float | None, Number("m/s", 2, "full aft stick lifts the nose; null: not looked at, never")
    ]
    gusts: Annotated[Many[GustRow], said("gyro off and on")]
    more_throw: Annotated[MoreThrowRow | None, said("null: it does not lie forward of the limit")]


def forward_row(forward: ForwardLimit | None) -> ForwardRow | None:
    """Return the row of a forward limit, None where none was looked for."""
    if forward is None:
        return None
    decided = forward.decided_by
    return ForwardRow(
        aft_mm=forward.aft_mm,
        low_mm=forward.low_mm,
        high_mm=forward.high_mm,
        pct_mac=forward.pct_mac,
        nominal_mm=forward.nominal_mm,
        decided_by=None if decided is None else decided.name,
        checks=[CheckRow.model_validate(x) for x in forward.checks],
        draws=forward.draws,
        required_share_pct=forward.share_pct,
        pack_reaches_mm=forward.reach_mm,
        neutral_mm=forward.neutral_mm,
        ahead_of_neutral_pct=forward.room_pct,
        left_out=forward.left_out,
    )


class ForwardKeys(TypedDict):
    """A forward limit in the flat keys that rows of limits have."""

    forward_mm: float | None
    forward_low_mm: float | None
    forward_high_mm: float | None
    forward_nominal_mm: float | None


def forward_keys(forward: ForwardLimit | None) -> ForwardKeys:
    """Return a forward limit [mm] in flat keys; None where there is none."""
    return {
        "forward_mm": None if forward is None else forward.aft_mm,
        "forward_low_mm": None if forward is None else forward.low_mm,
        "forward_high_mm": None if forward is None else forward.high_mm,
        "forward_nominal_mm": None if forward is None else forward.nominal_mm,
    }


def window_row(forward: ForwardLimit | None, limit: AftLimit | None) -> WindowRow:
    """Return the row of a window."""
    found = window.window_of(forward, limit)
    return WindowRow(
        kind=found.kind,
        front_mm=found.front_mm,
        aft_mm=found.aft_mm,
        forward_limit_mm=found.forward_mm,
        flown_from_mm=found.flown_from_mm,
        at_end=found.at_end,
    )


def landing_record(ready: Assembled, landing: Landing) -> LandingRecord:
    """Return the record of a set-up's landing end."""
    forward = forward_row(landing.forward)
    assert forward is not None
    return LandingRecord(
        schema="aftlimit.landing/1",
        version=__version__,
        aeroplane=ready.aeroplane.name,
        setup=ready.setup.name,
        balance_aft_mm=ready.weighed.balance_aft_mm,
        approaches=[_approach(x) for x in landing.approaches],
        flap=None if landing.flap is None else _flap(landing.flap),
        forward_limit=forward,
        rotation_mps=landing.rotation_mps,
        gusts=[_gust(x) for x in landing.gusts],
        more_throw=more_throw_row(landing.more_throw),
    )


def _approach(x: Approach) -> ApproachRow:
    return ApproachRow(
        flap_deg=x.flap_deg,
        stall_speed_mps=x.stall_mps,
        approach_mps=x.approach_mps,
        touchdown_mps=x.touchdown_mps,
        trim_found=x.trim.found,
        alpha_deg=x.trim.alpha_deg,
        tail_deg=x.trim.tail_deg,
        elevator_stick=x.trim.elevator_stick,
        throttle=x.trim.throttle,
        slowest_mps=x.slowest_mps,
        slowest_p95_mps=x.slowest_p95_mps,
    )


def _flap(x: FlapChange) -> FlapRow:
    return FlapRow(
        speed_mps=x.speed_mps,
        flap_deg=x.flap_deg,
        alpha_deg=x.alpha_deg,
        tail_deg=x.tail_deg,
        elevator_stick=x.stick,
        throttle=x.throttle,
        pitch_dps2=x.pitch_dps2,
        load_g=x.load_g,
    )


def _peaks(x: Peaks) -> PeaksRow:
    return PeaksRow.model_validate(x)


def _gust(x: GustResponse) -> GustRow:
    return GustRow(
        manoeuvre=x.manoeuvre,
        gust_mps=x.gust_mps,
        side_gust_mps=x.side_gust_mps,
        length_m=x.length_m,
        speed_mps=x.speed_mps,
        gyro=x.gyro,
        nominal=_peaks(x.nominal),
        worst=_peaks(x.worst),
        draws=x.draws,
        stalled=x.stalled,
    )
