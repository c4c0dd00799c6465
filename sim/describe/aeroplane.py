"""The aeroplane: everything one file says about it."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from sim.describe.controls import Channel, Expo, Gyro, ServoType
from sim.describe.cross_checks import aeroplane_faults
from sim.describe.duty import Duty
from sim.describe.faults import Fault, FileFault, refuse
from sim.describe.geometry import Body, Datum, Surface
from sim.describe.known import Kind
from sim.describe.masses import OF_MASSES, AirframeShare, Measured, Pack, Part, Tray, WeightPlace
from sim.describe.power import Controller, Drive, Fan, FanUnit, Motor, Propeller, PropellerUnit
from sim.describe.quantity import (
    Described,
    FileName,
    Filled,
    Floor,
    Height,
    Listed,
    Passage,
    Text,
    between,
)
from sim.describe.setup import SetUpBlock
from sim.describe.undercarriage import Undercarriage

Spread = Annotated[float, between(0.0, 1000.0)]


class Structure(Described):
    """What the airframe stands: a load factor, and a speed never to exceed."""

    max_load_factor_g: Annotated[float, between(1.5, 50.0, "times gravity")]
    never_exceed_mps: Annotated[float, between(8.0, 200.0, "m/s")]


class FlyingField(Described):
    """The place it is flown from, which sets the density of the air and the heights there are.

    ``floor_m`` above the ground is what no flight may sink below, ``ceiling_m`` the most height
    that may be used; a study takes them unless it says otherwise.
    """

    elevation_m: Annotated[float, between(-450.0, 5000.0, "m")] = 0.0
    temperature_c: Annotated[float, between(-40.0, 55.0, "°C")] = 15.0
    floor_m: Floor | None = None
    ceiling_m: Height | None = None

    @model_validator(mode="after")
    def _floor_below_ceiling(self) -> "FlyingField":
        floor, ceiling = self.floor_m, self.ceiling_m
        if floor is not None and ceiling is not None and floor >= ceiling:
            refuse([("floor_m", f"must lie below ceiling_m, {ceiling:g}; got {floor:g}")])
        return self


class Aeroplane(Described):
    """An aeroplane as its file tells it: shape, masses, power, controls and set-ups.

    All places are from the datum: ``aft_mm`` towards the tail, ``right_mm`` towards the
    right wing tip, ``up_mm`` upwards. ``uncertainty`` overrides default spreads by name.
    Without ``airframe`` the weight that is not listed is spread as usual for its ``kind``.
    ``assumed`` and ``from_box`` list the keys that nobody measured; all others were.
    """

    format: Literal["aftlimit.aeroplane/1"] = Field(alias="schema")
    name: FileName
    title: Text
    invented: Passage | None = None
    kind: Kind | None = None
    assumed: Listed[Text] = ()
    from_box: Listed[Text] = ()
    datum: Datum
    field: FlyingField = FlyingField()
    structure: Structure
    surfaces: Filled[Surface]
    bodies: Filled[Body]
    airframe: Listed[AirframeShare] = ()
    parts: Listed[Part] = ()
    tray: Tray
    packs: dict[str, Pack]
    weight_places: Listed[WeightPlace] = ()
    measured: Measured | None = None
    duty: Duty | None = None
    undercarriage: Undercarriage | None = None
    fans: Listed[Fan] = ()
    fan_units: dict[str, FanUnit] = Field(default_factory=dict)
    propellers: Listed[Propeller] = ()
    propeller_units: dict[str, PropellerUnit] = Field(default_factory=dict)
    motors: dict[str, Motor] = Field(default_factory=dict)
    controllers: dict[str, Controller] = Field(default_factory=dict)
    drive: Drive | None = None
    servo_types: dict[str, ServoType]
    channels: dict[str, Channel]
    expo: Expo = Expo()
    gyro: Gyro | None = None
    setups: dict[FileName, SetUpBlock]
    uncertainty: dict[str, Spread] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _hangs_together(self) -> "Aeroplane":
        refuse((f.path, f.text) for f in aeroplane_faults(self.model_dump(exclude_none=True)))
        return self

    @property
    def has_motor(self) -> bool:
        """Whether anything drives it; a glider has no fans, propellers, motors or drive."""
        return bool(self.fans or self.propellers)

    def demand_motor(self, wish: str) -> None:
        """Refuse what a glider cannot do.

        Raises
        ------
        FileFault
            It has no motor; the text says that it cannot do the ``wish``.
        """
        if not self.has_motor:
            text = f"has no motor: nothing to {wish} with; a glider is trimmed by speed alone"
            raise FileFault(self.name, [Fault("", text)])

    @property
    def power_train(self) -> tuple[Motor, Controller]:
        """The motor and the controller of each fan or propeller.

        Raises
        ------
        FileFault
            It has none.
        """
        self.demand_motor("turn a fan or propeller")
        assert self.drive is not None
        return self.motors[self.drive.motor], self.controllers[self.drive.controller]

    def surfaces_as(self, *roles: str) -> tuple[Surface, ...]:
        """Return the surfaces that play one of the given roles, in file order."""
        return tuple(s for s in self.surfaces if s.role in roles)

    def tray_of(self, pack: str) -> Tray:
        """Return where the centre of a pack may lie on the tray."""
        return self.tray.of(self.packs[pack].length_mm)

    @property
    def measured_setup(self) -> str:
        """Name of the set-up in which it was measured; see `Measured`."""
        measured = self.measured
        if measured is not None and measured.setup is not None:
            return measured.setup
        placed = [name for name, block in self.setups.items() if block.pack_aft_mm is not None]
        of_masses = measured is not None and measured.has(*OF_MASSES)
        return placed[0] if of_masses else self.first_setup

    @property
    def first_setup(self) -> str:
        """Name of the set-up meant where none is named: the first in the file."""
        return next(iter(self.setups))
