"""An aeroplane's power fitted to what was measured of it, in the set-up it was measured in."""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Protocol

import numpy as np

from sim.core.layout import Model
from sim.describe import Aeroplane, Fault, FileFault, resolve_setup
from sim.describe.masses import CRUISE, OF_POWER
from sim.pack.field import field_density
from sim.pack.level_thrust import thrust_required
from sim.pack.stalling import Stall
from sim.power.bench_checks import check_measured
from sim.power.bench_fit import Asked, Curve, PowerFit, fitted_power
from sim.power.packing import pack_power
from sim.units.quantities import SPEED

SPEEDS = 16  # at which the thrust required is known, from the stall on
REACH = 1.6  # times the fastest speed that was measured
KEPT = 16


class Packed(Protocol):
    """What is needed of an assembled set-up."""

    @property
    def model(self) -> Model: ...  # noqa: D102
    @property
    def stall(self) -> Stall: ...  # noqa: D102


Pack = Callable[[Aeroplane, str], Packed]


@dataclass(frozen=True)
class _Question:
    """An aeroplane that two questions are the same of if it says the same."""

    text: str
    aeroplane: Aeroplane = field(compare=False)
    packed: Pack = field(compare=False)


def power_fit(aeroplane: Aeroplane, packed: Pack) -> PowerFit:
    """Return an aeroplane's power fitted to what ``[measured]`` says of it, or as it stands.

    Own: see `sim.power.bench_fit`. Kept for the next time it is asked.

    Parameters
    ----------
    aeroplane : Aeroplane
        As the file has it; one that was fitted has no such measurement left, and stays.
    packed : callable
        Returns a set-up of an aeroplane ready to fly.

    Raises
    ------
    FileFault
        A measurement cannot be.
    """
    if aeroplane.measured is None or not aeroplane.measured.has(*OF_POWER):
        return PowerFit(aeroplane)
    return _fit(_Question(aeroplane.model_dump_json(), aeroplane, packed))


@lru_cache(maxsize=KEPT)
def _fit(question: _Question) -> PowerFit:
    aeroplane = question.aeroplane
    measured = aeroplane.measured
    if measured is None:
        return PowerFit(aeroplane)
    setup = resolve_setup(aeroplane, aeroplane.measured_setup)
    rho = field_density(aeroplane)
    check_measured(aeroplane, measured, aeroplane.packs[setup.pack], setup.nozzle_mm, rho)
    required = None
    if measured.has(*CRUISE, "top_speed_mps"):
        required = _required(aeroplane, question.packed(aeroplane, setup.name), rho)
    return fitted_power(Asked(aeroplane, measured, pack_power(aeroplane, setup), rho, required))


def _required(aeroplane: Aeroplane, ready: Packed, rho: float) -> Curve:
    """Return speeds [m/s] and the thrust [N] that level flight takes at them.

    Raises
    ------
    FileFault
        A speed was measured at which the aeroplane is stalled.
    """
    measured = aeroplane.measured
    asked = {
        key: value
        for key in ("cruise_speed_mps", "top_speed_mps")
        if (value := getattr(measured, key)) is not None
    }
    slowest = ready.stall.speed_mps
    faults = [
        Fault(
            f"measured.{key}",
            f"must be above the stall, {SPEED(slowest, '.1f')}; got {SPEED(value, 'g')}",
        )
        for key, value in asked.items()
        if value <= slowest
    ]
    if faults:
        raise FileFault(f"{aeroplane.name}.toml", faults)
    speeds = np.linspace(slowest, REACH * max(asked.values()), SPEEDS)
    thrust_n = thrust_required(ready.model, speeds, rho)
    found = np.isfinite(thrust_n)
    if found.sum() < 2:
        text = "level flight is not to be had at the speeds measured; look at throws and balance"
        raise FileFault(f"{aeroplane.name}.toml", [Fault("measured", text)])
    return speeds[found], thrust_n[found]
