"""The record of trim: level flight, margins, modes, departure criteria, tail and masses."""

from typing import Annotated, Literal

from pydantic import Field

from sim.pack.assemble import Assembled
from sim.record.fields import Kind, Many, Number, Record, said
from sim.spin.scale import Scale
from sim.spin.tail_damping import TailDamping
from sim.trim.criteria import Criteria
from sim.trim.modes import Mode
from sim.trim.trimming import Trim
from sim.version import __version__


class ModeRow(Record):
    """One mode of the motion about level flight."""

    name: Annotated[str, said("of the mode")]
    real_per_s: Annotated[float, Number("1/s", 5, "real part of the eigenvalue")]
    imaginary_per_s: Annotated[float, Number("1/s", 5, "imaginary part of the eigenvalue")]
    frequency_rps: Annotated[float, Number("rad/s", 5, "natural frequency")]
    damping: Annotated[float, Number("1", 5, "damping ratio")]
    period_s: Annotated[float | None, Number("s", 4, "null: does not swing")]
    half_time_s: Annotated[
        float | None, Number("s", 4, "to half amplitude; below 0 to double; null: neither")
    ]


class DepartureRow(Record):
    """The departure criteria at one angle of attack."""

    alpha_deg: Annotated[float, Number("degrees", what="angle of attack")]
    cn_beta_dyn_per_deg: Annotated[float, Number("1/degree", 6, "below 0: the nose swings away")]
    lcdp_per_deg: Annotated[
        float | None,
        Number("1/degree", 6, "lateral control departure parameter; null: ailerons do not roll"),
    ]
    aileron_roll_power: Annotated[float, Number("1", 6, "Cl of half left to half right stick")]


class TailRow(Record):
    """The tail-damping power factor and what it is made of."""

    side_area_m2: Annotated[float, Number("m2", 6, "body's side under the tailplane")]
    rudder_m2: Annotated[float, Number("m2", 6, "area of the rudder")]
    rudder_open_m2: Annotated[float, Number("m2", 6, "of it outside the tailplane's wake")]
    damping_ratio: Annotated[float, Number("1", 7, "tail-damping ratio")]
    rudder_volume: Annotated[float, Number("1", 7, "unshielded-rudder volume")]
    power_factor: Annotated[float, Number("1", 9, "the product of both")]


class TrimRecord(Kind):
    """Level trim, stability and modes of a set-up, and what its tail and masses say of spins."""

    kind: Literal["aftlimit.trim/1"] = Field(alias="schema")
    found: Annotated[bool, said("false: level flight is not to be had at this speed")]
    speed_mps: Annotated[float, Number("m/s", 3, "of level flight")]
    alpha_deg: Annotated[float, Number("degrees", 4, "angle of attack")]
    tail_deg: Annotated[float, Number("degrees", 4, "pitch surface, trailing edge down plus")]
    throttle: Annotated[float, Number("1", 5, "of full")]
    descent_deg: Annotated[float | None, Number("degrees", 2, "of a glide; null: under power")]
    static_margin_pct: Annotated[float, Number("% MAC", 3, "stick fixed, gyro off")]
    neutral_point_pct_mac: Annotated[float, Number("% MAC", 3, "stick fixed, gyro off")]
    stall_speed_mps: Annotated[float, Number("m/s", 3, "power off")]
    modes: Annotated[Many[ModeRow], said("of the motion about level flight")]
    departure: Annotated[Many[DepartureRow], said("criteria by angle of attack")]
    tail_damping: Annotated[TailRow | None, said("null: without tailplane or rudder")]
    relative_density: Annotated[float, Number("1", 4, "m/(rho S b)")]
    mass_loading: Annotated[float, Number("1", 6, "(Ix - Iy)/(m b2)")]


def trim_record(
    ready: Assembled,
    trim: Trim,
    neutral_and_margin_pct: tuple[float, float],
    modes: list[Mode],
    criteria: Criteria,
    tail: tuple[TailDamping | None, Scale],
) -> TrimRecord:
    """Return the record of a set-up in level flight."""
    neutral, margin = neutral_and_margin_pct
    damping, scale = tail
    return TrimRecord(
        schema="aftlimit.trim/1",
        version=__version__,
        found=trim.found,
        speed_mps=trim.speed_mps,
        alpha_deg=trim.alpha_deg,
        tail_deg=trim.tail_deg,
        throttle=trim.throttle,
        descent_deg=None if ready.aeroplane.has_motor else trim.descent_deg,
        static_margin_pct=margin,
        neutral_point_pct_mac=neutral,
        stall_speed_mps=ready.stall.speed_mps,
        modes=[_mode(mode) for mode in modes],
        departure=_departure(criteria),
        tail_damping=None if damping is None else _tail(damping),
        relative_density=scale.relative_density,
        mass_loading=scale.mass_loading,
    )


def _mode(mode: Mode) -> ModeRow:
    return ModeRow(
        name=mode.name,
        real_per_s=mode.real,
        imaginary_per_s=mode.imaginary,
        frequency_rps=mode.frequency_rps,
        damping=mode.damping,
        period_s=mode.period_s,
        half_time_s=mode.half_time_s,
    )


def _departure(criteria: Criteria) -> list[DepartureRow]:
    columns = (criteria.alphas_deg, criteria.dynamic, criteria.aileron, criteria.roll_power)
    return [
        DepartureRow(
            alpha_deg=float(alpha),
            cn_beta_dyn_per_deg=float(dynamic),
            lcdp_per_deg=float(lcdp),
            aileron_roll_power=float(power),
        )
        for alpha, dynamic, lcdp, power in zip(*columns, strict=True)
    ]


def _tail(tail: TailDamping) -> TailRow:
    return TailRow(
        side_area_m2=tail.side_area_m2,
        rudder_m2=tail.rudder_m2,
        rudder_open_m2=tail.open_above_m2 + tail.open_below_m2,
        damping_ratio=tail.damping_ratio,
        rudder_volume=tail.rudder_volume,
        power_factor=tail.power_factor,
    )
