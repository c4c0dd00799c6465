"""Fly sets of draws of the display jet for the facts of the trade.

The build-up's own errors beyond the stall (`sim.core.errors`), which studies draw, are left
out here: a fact of the trade is held against what the physics says, and those draws tell how
far it may be wrong on an aeroplane that nobody measured. With them two facts of loading
drown: of 64 recoveries by rudder alone 9 to 11 are lost, without them none.
"""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from sim.core import script_layout as s
from sim.core.draw_layout import D_ERRORS
from sim.describe import (
    GyroChange,
    SetUpBlock,
    load_aeroplane,
    load_manoeuvre,
    load_recovery,
    resolve_setup,
)
from sim.judge.confidence import wilson
from sim.pack.assemble import Assembled, assemble
from sim.study.flights.draws import make_draws
from sim.study.flights.running import Leg, Runner
from sim.study.flights.storing import FlightStore

DRAWS = 64
HEIGHT_M = 250.0
DEEP_M = 200.0  # where only shares or spins are looked at, what has lost so much is given up


@lru_cache(maxsize=64)
def jet(
    balance_mm: float | None = None,
    pack: str = "6s_4000",
    like: str = "club",
    gyro: str = "off",
    override: bool = True,
) -> Assembled:
    """Return the display jet with a pack, balanced somewhere, with or without gyro."""
    aeroplane = load_aeroplane("display_jet")
    block = SetUpBlock(
        like=like, pack=pack, gyro=gyro, gyro_change=GyroChange(stick_override=override)
    )
    setup = resolve_setup(aeroplane, block)
    return assemble(aeroplane, setup if balance_mm is None else setup.at_balance(balance_mm))


_KNOWN: dict[tuple[int, str, str, int, float | None], np.ndarray] = {}


def flown(
    ready: Assembled,
    manoeuvre: str,
    recovery: str,
    draws: int = DRAWS,
    most_drop_m: float | None = None,
) -> np.ndarray:
    """Return summaries (draws, N_SUMMARY) of a manoeuvre and recovery, seed 5.

    ``most_drop_m``: as of a `Leg`; None flies on until flight.toml gives up.
    """
    return flown_ways(ready, manoeuvre, (recovery,), draws, most_drop_m)[0]


def flown_ways(
    ready: Assembled,
    manoeuvre: str,
    recoveries: Sequence[str],
    draws: int = DRAWS,
    most_drop_m: float | None = None,
) -> list[np.ndarray]:
    """Return what `flown` does for several recoveries, each entry flown once."""
    keys = {x: (id(ready), manoeuvre, x, draws, most_drop_m) for x in recoveries}
    new = [recovery for recovery, key in keys.items() if key not in _KNOWN]
    if new:
        drawn = make_draws(ready.spreads, draws, 5)
        drawn.physical[:, D_ERRORS:] = 0.0
        entry, which = load_manoeuvre(manoeuvre), np.arange(draws)
        legs = [Leg(ready, entry, load_recovery(x), HEIGHT_M, which, most_drop_m) for x in new]
        rows = Runner(drawn, 5, FlightStore(None)).fly(legs)
        _KNOWN.update(zip((keys[x] for x in new), rows, strict=True))
    return [_KNOWN[key] for key in keys.values()]


def back(rows: np.ndarray) -> np.ndarray:
    """Return which flights came back at all, whatever the height."""
    return rows[:, s.R_BACK] > 0.0


def share_limits(rows: np.ndarray) -> tuple[float, float]:
    """Return the 95 % Wilson limits of the share that came back at all."""
    return wilson(int(back(rows).sum()), len(rows))


def median_height_lost(rows: np.ndarray) -> float:
    """Return the median height from the first recovery input to level [m], may be infinite."""
    return float(np.median(np.where(back(rows), rows[:, s.R_HEIGHT_LOST], np.inf)))
