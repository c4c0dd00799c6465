"""How the time of a flight is shared out: what was given, else the table's."""

from collections.abc import Sequence
from dataclasses import dataclass

from sim import tables
from sim.describe import Aeroplane, SetUp, resolve_setup
from sim.describe.duty import Duty
from sim.power.pack import reserve_of


@dataclass(frozen=True)
class Mix:
    """Shares of time [%] in the order of `sim.describe.duty.WORKS`, cruise speed and reserve.

    ``cruise_mps`` None: a share of the top speed; ``assumed``: the shares are the table's.
    """

    shares_pct: tuple[float, ...]
    cruise_mps: float | None
    reserve_pct: float
    assumed: bool


def mix_of(aeroplane: Aeroplane, setup: SetUp, study: Duty | None = None) -> Mix:
    """Return the mix of a set-up: its own, else the study's, else the aeroplane's."""
    told: Sequence[Duty] = [x for x in (setup.duty, study, aeroplane.duty) if x is not None]
    table = tables.flight_time()
    shares = [x.shares_pct for x in told if x.shares_pct is not None]
    speeds = [x.cruise_mps for x in told if x.cruise_mps is not None]
    return Mix(
        shares_pct=shares[0] if shares else table.shares_pct,
        cruise_mps=speeds[0] if speeds else None,
        reserve_pct=reserve_of(*told),
        assumed=not shares,
    )


def charged_of(aeroplane: Aeroplane, setup: SetUp) -> tuple[float, float] | None:
    """Return what the charger put back [mAh] after how long [min] with this pack and nozzle.

    That of the set-up, else of ``[measured]`` where pack and nozzle are those of its set-up.
    None: nobody measured it.
    """
    if setup.mah_put_back is not None and setup.after_minutes is not None:
        return setup.mah_put_back, setup.after_minutes
    measured = aeroplane.measured
    if measured is None or measured.mah_put_back is None or measured.after_minutes is None:
        return None
    flown = resolve_setup(aeroplane, aeroplane.measured_setup)
    if (flown.pack, flown.nozzle_mm) != (setup.pack, setup.nozzle_mm):
        return None
    return measured.mah_put_back, measured.after_minutes
