"""What the pilot chooses: pack and where it lies, weights, throws, nozzle, gyro.

A block, as written, may start from another (``like``) and leave most keys out; a set-up
is the same after everything it starts from has been filled in.
"""

from typing import Annotated, Literal

from pydantic import model_validator

from sim.describe.controls import Gyro, GyroChange, Shares, Throws, ThrowsOfSetUp
from sim.describe.duty import Duty
from sim.describe.faults import refuse
from sim.describe.masses import FlownMinutes, LooseWeight, PutBack, half_told
from sim.describe.power import Diameter
from sim.describe.quantity import Described, FileName, Listed, Name, Place, Text, between

FlapAngle = Annotated[float, between(-60.0, 60.0, "degrees")]
Switch = Literal["on", "off"]


class SetUpBlock(Described):
    """A set-up as written in a file: what is left out comes from ``like``.

    ``loose_weights`` replaces the whole list of the set-up it starts from; ``throws``, in degrees
    or in mm at the trailing edge, and ``gyro_change`` replace single entries; a pack position
    replaces a balance point and the other way round. ``mah_put_back`` after ``after_minutes`` is
    what the charger said; it does not hold for another pack or nozzle. ``duty`` replaces the whole
    table.
    """

    title: Text | None = None
    like: Name | None = None
    pack: Name | None = None
    pack_aft_mm: Place | None = None
    balance_aft_mm: Place | None = None
    loose_weights: Listed[LooseWeight] | None = None
    throws: dict[str, ThrowsOfSetUp] | None = None
    flap_deg: FlapAngle | None = None
    nozzle_mm: Diameter | None = None
    gyro: Switch | None = None
    gyro_change: GyroChange | None = None
    duty: Duty | None = None
    mah_put_back: PutBack | None = None
    after_minutes: FlownMinutes | None = None

    @model_validator(mode="after")
    def _places_the_pack_once(self) -> "SetUpBlock":
        refuse(half_told(self.mah_put_back, self.after_minutes))
        if self.pack_aft_mm is not None and self.balance_aft_mm is not None:
            text = "gives both pack_aft_mm and balance_aft_mm; give one, the other follows from it"
            refuse([("", text)])
        return self


class StudySetUp(SetUpBlock):
    """A set-up written in a study, where it also has its name."""

    name: FileName


class SetUp(Described):
    """A set-up with everything said.

    Exactly one of ``pack_aft_mm`` and ``balance_aft_mm`` is given. ``throws`` holds every
    channel, ``sticks`` what of each its sticks move; ``flap_deg`` is where the channel ``flap``
    stands with the sticks in the middle, trailing edge down positive. ``nozzle_mm`` None leaves
    each fan's own; ``gyro_settings`` is None where the aeroplane has no gyro. ``duty`` None is the
    study's or the aeroplane's.
    """

    name: str
    title: str
    pack: str
    pack_aft_mm: float | None
    balance_aft_mm: float | None
    loose_weights: tuple[LooseWeight, ...]
    throws: dict[str, Throws]
    sticks: dict[str, Shares]
    flap_deg: float
    nozzle_mm: float | None
    gyro: Switch
    gyro_settings: Gyro | None
    duty: Duty | None = None
    mah_put_back: float | None = None
    after_minutes: float | None = None

    def at_balance(self, balance_aft_mm: float) -> "SetUp":
        """Return the same set-up balanced elsewhere [mm aft of the datum]."""
        return self.model_copy(update={"pack_aft_mm": None, "balance_aft_mm": balance_aft_mm})
