"""The records of spin equilibria: at one place, and along a map."""

from collections.abc import Sequence
from typing import Annotated, Literal

from pydantic import Field

from sim.pack.stalling import Stall
from sim.record.fields import Kind, Many, Number, Record, said
from sim.spin.births import Birth, kind_of, name_of
from sim.spin.equilibrium import Held
from sim.spin.mapped import Flown, Mapped
from sim.spin.roots import SpinRoot
from sim.version import __version__

LEAST_STABLE = 4  # eigenvalues written for each equilibrium
ENDLESS = 1e6  # s or m: no time or radius any more
Stick = Annotated[float, Number("1", 4, "of full stick")]
PerSecond = Annotated[float, Number("1/s", 4)]
Place = Annotated[
    float, Number("mm or 1", what="place on the map: mm aft of the datum, or the share of the way")
]


class SticksRow(Record):
    """Where the sticks stand: aft, right and full throttle are 1."""

    elevator: Stick
    aileron: Stick
    rudder: Stick
    throttle: Stick


class HeldRow(SticksRow):
    """Where the sticks are held, and the trims added."""

    elevator_trim: Stick
    aileron_trim: Stick
    rudder_trim: Stick


class RootRow(Record):
    """One equilibrium: a spin, a spiral, a glide or a deep stall that stays as it is."""

    what: Annotated[str, said("in words")]
    kind: Annotated[str, said("by the judge's thresholds")]
    alpha_deg: Annotated[float, Number("degrees", 3, "angle of attack")]
    beta_deg: Annotated[float, Number("degrees", 3, "sideslip")]
    pitch_deg: Annotated[float, Number("degrees", 3, "nose above the horizon")]
    bank_deg: Annotated[float, Number("degrees", 3, "bank, right plus")]
    speed_mps: Annotated[float, Number("m/s", 4, "airspeed")]
    turn_dps: Annotated[float, Number("degrees/s", 3, "about the vertical, right plus")]
    roll_rate_dps: Annotated[float, Number("degrees/s", 3, "about the body's x")]
    pitch_rate_dps: Annotated[float, Number("degrees/s", 3, "about the body's y")]
    yaw_rate_dps: Annotated[float, Number("degrees/s", 3, "about the body's z")]
    omega_b_over_2v: Annotated[float, Number("1", 5, "turn rate times span over twice the speed")]
    sink_mps: Annotated[float, Number("m/s", 4, "downwards")]
    radius_m: Annotated[float | None, Number("m", 4, "of the path; null: straight", below=ENDLESS)]
    load_g: Annotated[float, Number("g", 4, "along the aeroplane's own vertical")]
    stable: Annotated[bool, said("a small disturbance dies out")]
    left_swinging: Annotated[bool, said("not stable, and left with growing swings")]
    half_time_s: Annotated[
        float | None,
        Number("s", 4, "to half; below 0 to double; null: hardly changes", below=ENDLESS),
    ]
    period_s: Annotated[float | None, Number("s", 4, "null: does not swing")]
    eigenvalues_per_s: Annotated[
        Many[Many[PerSecond]], said("real and imaginary part, the least stable first")
    ]
    left_over_g: Annotated[
        float, Number("g", significant=3, what="largest acceleration not balanced")
    ]


class SpinRecord(Kind):
    """The equilibria of an aeroplane with its controls held."""

    kind: Literal["aftlimit.spin/1"] = Field(alias="schema")
    held: Annotated[HeldRow, said("the controls")]
    equilibria: Annotated[Many[RootRow], said("the fastest to the right first")]


class StopRow(Record):
    """One place on a map."""

    at: Place
    equilibria: Annotated[Many[RootRow], said("the fastest to the right first")]


class BranchRow(Record):
    """Two equilibria of neighbouring stops that are one branch."""

    stop: Annotated[int, Number("1", what="number of the stop, from 0")]
    equilibrium: Annotated[int, Number("1", what="its number there, from 0")]
    next: Annotated[int, Number("1", what="the number at the next stop, from 0")]


class BirthRow(Record):
    """Where a flat mode is first met on the way along the map."""

    mode: Annotated[str, said("its name")]
    turning: Annotated[str, said("right, left, or empty where it does not turn")]
    at: Annotated[float, Number("mm or 1", 3, "the first place that has it")]
    within: Annotated[
        float | None, Number("mm or 1", 3, "how far before it may begin; null: from the start")
    ]
    stable: Annotated[bool, said("it holds itself there")]
    last: Annotated[
        float | None, Number("mm or 1", what="the last place that has it; null: goes on to the end")
    ]


class HeldOnRow(Record):
    """What an entry with its controls held on ends in, at one place of the map."""

    at: Place
    alpha_deg: Annotated[float, Number("degrees", 3, "mean angle of attack")]
    swing_deg: Annotated[float, Number("degrees", 3, "its standard deviation")]
    turn_dps: Annotated[float, Number("degrees/s", 3, "about the vertical, right plus")]
    sink_mps: Annotated[float, Number("m/s", 4, "downwards")]


class SpinMapRecord(Kind):
    """The equilibria along the balance point, or along sticks moved to a recovery."""

    kind: Literal["aftlimit.spin_map/1"] = Field(alias="schema")
    along: Annotated[str, said("what the map goes along, and its unit")]
    sticks: Annotated[SticksRow, said("held, or moved from")]
    towards: Annotated[SticksRow | None, said("moved to; null: held")]
    stops: Annotated[Many[StopRow], said("the places in order")]
    branches: Annotated[Many[BranchRow], said("which equilibria belong together")]
    flat_modes_begin: Annotated[Many[BirthRow], said("where flat modes begin")]
    flown: Annotated[Many[HeldOnRow], said("entries with the controls held on")]


def spin_record(held: Held, roots: Sequence[SpinRoot], stall: Stall) -> SpinRecord:
    """Return the record of an aeroplane's equilibria with its controls held."""
    names = list(SticksRow.model_fields)
    trims = {f"{name}_trim": float(x) for name, x in zip(names, held.trims, strict=False)}
    sticks = dict(zip(names, held.sticks.tolist(), strict=True))
    return SpinRecord(
        schema="aftlimit.spin/1",
        version=__version__,
        held=HeldRow(**sticks, **trims),
        equilibria=[_root(root, stall) for root in roots],
    )


def map_record(mapped: Mapped) -> SpinMapRecord:
    """Return the record of a map."""
    return SpinMapRecord(
        schema="aftlimit.spin_map/1",
        version=__version__,
        along=mapped.along,
        sticks=_sticks(mapped.sticks),
        towards=None if mapped.goal is None else _sticks(mapped.goal),
        stops=[
            StopRow(at=stop.at, equilibria=[_root(root, stop.stall) for root in stop.roots])
            for stop in mapped.found.stops
        ],
        branches=[
            BranchRow(stop=link.stop, equilibrium=link.here, next=link.there)
            for link in mapped.found.links
        ],
        flat_modes_begin=[_birth(birth) for birth in mapped.births],
        flown=[_held_on(flight) for flight in mapped.flown],
    )


def _sticks(sticks: Sequence[float]) -> SticksRow:
    elevator, aileron, rudder, throttle = (float(x) for x in sticks)
    return SticksRow(elevator=elevator, aileron=aileron, rudder=rudder, throttle=throttle)


def _birth(birth: Birth) -> BirthRow:
    return BirthRow(
        mode=birth.mode,
        turning=birth.side,
        at=birth.at,
        within=birth.within,
        stable=birth.stable,
        last=birth.last,
    )


def _held_on(flight: Flown) -> HeldOnRow:
    end = flight.end
    return HeldOnRow(
        at=flight.at,
        alpha_deg=end.alpha_deg,
        swing_deg=end.swing_deg,
        turn_dps=end.turn_dps,
        sink_mps=end.sink_mps,
    )


def _root(root: SpinRoot, stall: Stall) -> RootRow:
    roll, pitch, yaw = root.rates_dps
    return RootRow(
        what=name_of(root, stall),
        kind=kind_of(root, stall),
        alpha_deg=root.alpha_deg,
        beta_deg=root.beta_deg,
        pitch_deg=root.pitch_deg,
        bank_deg=root.bank_deg,
        speed_mps=root.speed_mps,
        turn_dps=root.turn_dps,
        roll_rate_dps=roll,
        pitch_rate_dps=pitch,
        yaw_rate_dps=yaw,
        omega_b_over_2v=root.rate,
        sink_mps=root.sink_mps,
        radius_m=root.radius_m,
        load_g=root.load_g,
        stable=root.stable,
        left_swinging=root.swings and not root.stable,
        half_time_s=root.half_time_s,
        period_s=root.period_s,
        eigenvalues_per_s=[[float(v.real), float(v.imag)] for v in root.eigenvalues[:LEAST_STABLE]],
        left_over_g=root.left_over,
    )
