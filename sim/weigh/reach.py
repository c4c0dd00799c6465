"""How far a pack's tray moves the balance point, with nothing added."""

from dataclasses import dataclass

from sim.describe import Aeroplane, SetUp
from sim.weigh.weighing import weigh_set_up


@dataclass(frozen=True)
class Reach:
    """Where a pack's centre may lie [mm aft], and where the aeroplane then balances [mm aft]."""

    pack: str
    front_mm: float
    rear_mm: float
    foremost_mm: float
    rearmost_mm: float


def pack_reach(aeroplane: Aeroplane, setup: SetUp, pack: str) -> Reach:
    """Return how far a pack reaches on its tray in a set-up, otherwise as it stands."""
    tray = aeroplane.tray_of(pack)
    at = {"pack": pack, "balance_aft_mm": None}
    first, last = (
        weigh_set_up(aeroplane, setup.model_copy(update={**at, "pack_aft_mm": end})).balance_aft_mm
        for end in (tray.front_aft_mm, tray.rear_aft_mm)
    )
    return Reach(pack, tray.front_aft_mm, tray.rear_aft_mm, first, last)
