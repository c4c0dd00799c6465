"""What drives it: fans or propellers, motors, controllers, and which belong together."""

from itertools import pairwise
from typing import Annotated, Literal

from pydantic import model_validator

from sim.describe.faults import refuse
from sim.describe.quantity import Described, Listed, Milliohm, Name, Place, Tilt, between

Rotation = Literal["clockwise", "anticlockwise"]
Diameter = Annotated[float, between(20.0, 400.0, "mm")]
RotorInertia = Annotated[float, between(1e-8, 0.05, "kg m²")]

# A nozzle outside this share of the fan's free ring is a slip of the pen, not a choice;
# 70 to 100 % is usual (common practice, no source).
NOZZLE_SHARES_PCT = (35.0, 160.0)


class Fan(Described):
    """One ducted fan in its place, with its inlet and its nozzle.

    ``thrust_tilt_deg`` is positive when the jet pushes the aeroplane's nose down
    (the thrust line points downwards ahead).
    """

    name: Name
    fan: Name
    aft_mm: Place
    right_mm: Place
    up_mm: Place
    inlet_aft_mm: Place
    inlet_up_mm: Place
    nozzle_aft_mm: Place
    nozzle_up_mm: Place
    thrust_tilt_deg: Tilt = 0.0
    nozzle_mm: Diameter

    @model_validator(mode="after")
    def _in_flow_order(self) -> "Fan":
        if not self.inlet_aft_mm < self.aft_mm < self.nozzle_aft_mm:
            text = f"must lie between inlet_aft_mm, {self.inlet_aft_mm:g}, and nozzle_aft_mm, "
            refuse([("aft_mm", f"{text}{self.nozzle_aft_mm:g}; got {self.aft_mm:g}")])
        return self


class FanUnit(Described):
    """A kind of fan: its sizes and its pressure-rise line.

    The line is in coefficients on the tip speed U: Δp / (ρU²) against axial speed / U,
    from its value at zero flow with a (negative) slope. ``inlet_lip_loss``: what is lost behind
    the windward lip over the head of the air across it; left out, that of inlet.toml.
    """

    duct_mm: Diameter
    hub_mm: Annotated[float, between(5.0, 390.0, "mm")]
    rotor_inertia_kgm2: RotorInertia
    rotates: Rotation
    zero_flow_pressure_coefficient: Annotated[float, between(0.02, 3.0)]
    pressure_coefficient_slope: Annotated[float, between(-10.0, 0.0)]
    efficiency: Annotated[float, between(0.2, 0.95)]
    duct_loss_coefficient: Annotated[float, between(0.0, 2.0)]
    ram_recovery: Annotated[float, between(0.0, 1.0)]
    inlet_lip_loss: Annotated[float, between(0.0, 5.0)] | None = None

    @model_validator(mode="after")
    def _has_a_ring(self) -> "FanUnit":
        if self.hub_mm >= self.duct_mm:
            text = f"must be less than duct_mm, {self.duct_mm:g}; got {self.hub_mm:g}"
            refuse([("hub_mm", text)])
        return self


class Propeller(Described):
    """One propeller in its place, its hub's.

    ``thrust_tilt_deg`` is downthrust (positive: the shaft points downwards ahead),
    ``side_tilt_deg`` right thrust (positive: the shaft points right ahead).
    """

    name: Name
    propeller: Name
    aft_mm: Place
    right_mm: Place
    up_mm: Place
    thrust_tilt_deg: Tilt = 0.0
    side_tilt_deg: Tilt = 0.0


class PropellerUnit(Described):
    """A kind of propeller: its blade by chord at some radii, and its helix pitch.

    ``thrust_factor`` and ``power_factor``: what it does of what blade elements say.
    """

    diameter_mm: Annotated[float, between(50.0, 1000.0, "mm")]
    pitch_mm: Annotated[float, between(20.0, 1000.0, "mm")]
    blades: Annotated[int, between(2, 8, "blades")]
    radii_pct: Listed[Annotated[float, between(1.0, 100.0, "% of the radius")]]
    chord_pct_of_diameter: Listed[Annotated[float, between(0.3, 30.0, "% of the diameter")]]
    rotor_inertia_kgm2: RotorInertia
    rotates: Rotation
    thrust_factor: Annotated[float, between(0.5, 1.6)] = 1.0
    power_factor: Annotated[float, between(0.5, 1.6)] = 1.0

    @model_validator(mode="after")
    def _blade_runs_outwards(self) -> "PropellerUnit":
        faults = []
        if len(self.radii_pct) < 3:
            faults.append(("radii_pct", f"needs at least 3 radii; got {len(self.radii_pct)}"))
        if any(b <= a for a, b in pairwise(self.radii_pct)):
            faults.append(("radii_pct", "must rise from the hub to the tip"))
        if len(self.radii_pct) != len(self.chord_pct_of_diameter):
            text = f"must hold one chord for each of the {len(self.radii_pct)} radii of radii_pct"
            faults.append(
                ("chord_pct_of_diameter", f"{text}; got {len(self.chord_pct_of_diameter)}")
            )
        ratio = self.pitch_mm / self.diameter_mm
        if not 0.2 <= ratio <= 2.0:
            text = f"must be 0.2 to 2 times diameter_mm, {self.diameter_mm:g}"
            faults.append(("pitch_mm", f"{text}; got {self.pitch_mm:g}"))
        refuse(faults)
        return self


class Motor(Described):
    """An electric motor by its three constants."""

    kv_rpm_per_v: Annotated[float, between(50.0, 10000.0, "rpm per volt")]
    resistance_mohm: Milliohm
    no_load_current_a: Annotated[float, between(0.0, 20.0, "A")]


class Controller(Described):
    """A speed controller; ``full_sweep_s`` is its own ramp from idle to full."""

    resistance_mohm: Annotated[float, between(0.0, 100.0, "mΩ")]
    limit_a: Annotated[float, between(1.0, 500.0, "A")]
    full_sweep_s: Annotated[float, between(0.0, 5.0, "s")]


class Drive(Described):
    """Which fan or propeller, motor and controller go together.

    There is one motor and one controller to each fan or propeller; all share the pack.
    """

    fan: Name | None = None
    propeller: Name | None = None
    motor: Name
    controller: Name

    @model_validator(mode="after")
    def _turns_one_thing(self) -> "Drive":
        if (self.fan is None) == (self.propeller is None):
            refuse([("", "must name either a fan or a propeller, one of the two")])
        return self
