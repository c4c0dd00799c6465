"""Measurements that cannot be: refused before anything is fitted to them."""

from collections.abc import Iterator

from sim import tables
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.describe.aeroplane import Aeroplane
from sim.describe.faults import Fault, FileFault
from sim.describe.masses import Measured, Pack
from sim.power.fan import circle_area
from sim.power.ideal import ideal_power
from sim.power.pack import cell_voltage
from sim.units.quantities import MASS, SPEED

FULL_PCT = 100.0


def check_measured(
    aeroplane: Aeroplane, measured: Measured, pack: Pack, nozzle_mm: float | None, rho: float
) -> None:
    """Refuse currents, voltages and pulls that no fan, propeller or pack can have.

    Parameters
    ----------
    pack : Pack
        Of the set-up that was measured.
    nozzle_mm : float, optional
        Its nozzles [mm]; None leaves each fan's own.
    rho : float [kg/m³]

    Raises
    ------
    FileFault
        With everything that cannot be.
    """
    faults = [*_volts(measured, pack), *_amps(aeroplane, measured)]
    faults += _watts(aeroplane, measured, pack, nozzle_mm, rho)
    if measured.cruise_speed_mps is not None and measured.top_speed_mps is not None:
        cruise, top = measured.cruise_speed_mps, measured.top_speed_mps
        if cruise > top:
            least = SPEED(cruise, ".1f")
            text = f"must be at least the cruise speed, {least}; got {SPEED(top, '.1f')}"
            faults.append(Fault("measured.top_speed_mps", text))
    if faults:
        raise FileFault(f"{aeroplane.name}.toml", faults)


def _volts(measured: Measured, pack: Pack) -> Iterator[Fault]:
    """Yield a fault where the pack's voltage [V] is no voltage of its cells."""
    if measured.pack_v is None:
        return
    low, high = (pack.cells * end for end in tables.power_fit().cell_v)
    if not low <= measured.pack_v <= high:
        yield Fault(
            "measured.pack_v",
            f"must be {low:.1f} to {high:.1f} V under load for {pack.cells} cells; "
            f"got {measured.pack_v:g}",
        )


def _amps(aeroplane: Aeroplane, measured: Measured) -> Iterator[Fault]:
    """Yield a fault where more current [A] was measured than the controllers let through."""
    units = len(aeroplane.fans) + len(aeroplane.propellers)
    limit = units * aeroplane.power_train[1].limit_a
    current = measured.static_current_a
    if current is not None and current > limit and aeroplane.drive is not None:
        yield Fault(
            "measured.static_current_a",
            f"is more than {units} x limit_a of controller {aeroplane.drive.controller!r}, "
            f"{limit:g} A together; got {current:g}: correct one of them",
        )


def _watts(
    aeroplane: Aeroplane, measured: Measured, pack: Pack, nozzle_mm: float | None, rho: float
) -> Iterator[Fault]:
    """Yield a fault where the pull takes more power [W] than the pack gave, by momentum theory.

    The ideal fan or disc [glauert1935], units alike.
    """
    if measured.static_thrust_g is None or measured.static_current_a is None:
        return
    if aeroplane.fans:
        areas = [circle_area(nozzle_mm or fan.nozzle_mm) for fan in aeroplane.fans]
    else:
        kinds = [aeroplane.propeller_units[x.propeller] for x in aeroplane.propellers]
        # a free disc is a fan whose nozzle is half as large: the slipstream contracts to it
        areas = [0.5 * circle_area(x.diameter_mm) for x in kinds]
    pull = measured.static_thrust_g / 1000.0 * STANDARD_GRAVITY
    least = sum(ideal_power(pull * area / sum(areas), area, rho) for area in areas)
    volts = measured.pack_v or pack.cells * cell_voltage(FULL_PCT)
    given = measured.static_current_a * volts
    if given < least:
        yield Fault(
            "measured.static_current_a",
            f"gives {given:.0f} W at {volts:.1f} V; a pull of {MASS(measured.static_thrust_g)} "
            f"takes {least:.0f} W even without any loss (momentum): measure pull and current "
            "again, or check nozzle_mm, diameter_mm and the pack",
        )
