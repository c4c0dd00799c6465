"""From the sticks to the surfaces: servos, channels with their throws, expo and gyro."""

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, model_validator

from sim.describe.faults import refuse
from sim.describe.quantity import Described, Name, Share, Throw, Travel, Wanted, between

StickShare = Annotated[float, between(-1.0, 1.0)]
Gain = Annotated[float, between(-1.0, 1.0, "degrees per degree/s")]
Schedule = Annotated[
    tuple[
        Annotated[float, between(0.0, 3.0)],
        Annotated[float, between(0.0, 3.0)],
        Annotated[float, between(0.0, 3.0)],
    ],
    Field(strict=False),
    Wanted(
        "three numbers, each at least 0 and at most 3, in a list such as [1.0, 0.9, 0.7]: the "
        "factor on the gains at idle, half and full throttle"
    ),
]
FilterTime = Annotated[float, between(0.0, 0.5, "s")]
DelayTime = Annotated[float, between(0.0, 0.2, "s")]


class ServoType(Described):
    """A kind of servo with its linkage: speed and dead band are those of the surface.

    Without ``torque_ncm`` it holds whatever the air asks in flight, and is not judged.
    """

    rate_dps: Annotated[float, between(20.0, 3000.0, "degrees/s")]
    lag_s: Annotated[float, between(0.0, 0.5, "s")]
    deadband_deg: Annotated[float, between(0.0, 5.0, "degrees")]
    torque_ncm: Annotated[float, between(1.0, 2000.0, "N cm")] | None = None


class Shares(Described):
    """Share of a channel's throw that each stick moves.

    The aileron share moves left and right panels against each other, the other two
    together.
    """

    elevator: StickShare = 0.0
    aileron: StickShare = 0.0
    rudder: StickShare = 0.0


class Stick(Shares):
    """Share of a channel's throw that each stick moves, of one that any does."""

    @model_validator(mode="after")
    def _moves(self) -> "Stick":
        if self.elevator == self.aileron == self.rudder == 0.0:
            refuse([("", "must name a stick that moves it: elevator, aileron or rudder")])
        return self


class Throws(Described):
    """Throw of a channel: trailing edge up and down (of a rudder: left and right)."""

    up_deg: Throw
    down_deg: Throw


class SaidThrows(Described):
    """Throw of a channel as a set-up says it, each way in degrees or in mm at the trailing edge."""

    up_deg: Throw | None = None
    down_deg: Throw | None = None
    up_mm: Travel | None = None
    down_mm: Travel | None = None

    @model_validator(mode="after")
    def _says_each_way_once(self) -> "SaidThrows":
        faults = []
        for way in ("up", "down"):
            deg, mm = (getattr(self, f"{way}_{unit}") for unit in ("deg", "mm"))
            if deg is None and mm is None:
                text = f"is missing; give {way}_deg, or {way}_mm at the trailing edge"
                faults.append((f"{way}_deg", text))
            elif deg is not None and mm is not None:
                faults.append((f"{way}_mm", f"says the same as {way}_deg; keep one of them"))
        refuse(faults)
        return self


def _said(value: object) -> object:
    """Return throws in degrees as a set-up says them; all else as it is."""
    return value.model_dump(include={"up_deg", "down_deg"}) if isinstance(value, Throws) else value


ThrowsOfSetUp = Annotated[SaidThrows, BeforeValidator(_said)]


FLAP = "flap"  # the channel that a set-up's flap_deg sets


class Channel(Throws):
    """A channel: its servo, its throws, and the sticks that move it.

    Only the channel ``flap`` may do without a stick: a set-up's ``flap_deg`` sets it.
    """

    servo: Name
    stick: Stick = Field(default_factory=Stick.model_construct)


class Expo(Described):
    """Softening of each stick about its centre: 0 is linear, 100 starts flat."""

    aileron_pct: Share = 0.0
    elevator_pct: Share = 0.0
    rudder_pct: Share = 0.0


DialGain = Annotated[float, between(0.001, 20.0, "degrees per degree/s")]


class Dial(Described):
    """What the pilot measured with a gyro's dial at 100 %: degrees of surface per degree/s."""

    roll: DialGain | None = None
    pitch: DialGain | None = None
    yaw: DialGain | None = None


class Gyro(Described):
    """A rate gyro: degrees of surface per degree per second, about each axis.

    ``throttle_schedule`` holds the factor on the gains at idle, half and full throttle. Only
    ``surface_deg_per_dps_at_100_pct``, measured on the bench, makes per cent of a dial of them.
    """

    roll_gain: Gain
    pitch_gain: Gain
    yaw_gain: Gain
    filter_s: FilterTime
    delay_s: DelayTime
    stick_override: bool
    mode: Literal["rate", "hold"]
    throttle_schedule: Schedule
    surface_deg_per_dps_at_100_pct: Dial | None = None


class GyroChange(Described):
    """What a set-up changes of the gyro; every key may be left out."""

    roll_gain: Gain | None = None
    pitch_gain: Gain | None = None
    yaw_gain: Gain | None = None
    filter_s: FilterTime | None = None
    delay_s: DelayTime | None = None
    stick_override: bool | None = None
    mode: Literal["rate", "hold"] | None = None
    throttle_schedule: Schedule | None = None
