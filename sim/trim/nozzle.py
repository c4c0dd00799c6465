"""The exit area of a fan's nozzle swept: what it does to pull, current, cruise and top speed."""

from dataclasses import dataclass
from math import nan, pi, sqrt

import numpy as np

from sim import tables
from sim.core.loads import thrust
from sim.fly.columns import Floats
from sim.power.bench_fit import duty_for
from sim.power.fan_stall import Blades, blades_at
from sim.power.operating_point import operating_point
from sim.power.packing import PowerArrays
from sim.trim.performance import Performance, fastest, ideal_share
from sim.units.quantities import SPEED

MM = 1000.0
GOALS = ("cruise", "top", "static")


@dataclass(frozen=True)
class NozzleRow:
    """One nozzle, its area as a share of the fan's ring; NaN where level flight is not held.

    ``blades`` standing still at full throttle, where a fan is nearest its stall; ``limited``
    where a controller holds the current back.
    """

    nozzle_mm: float
    ring_share: float
    static_n: float
    static_a: float
    jet_mps: float
    ideal_share: float
    cruise_throttle: float
    cruise_a: float
    top_mps: float
    blades: Blades
    limited: bool


@dataclass(frozen=True)
class Best:
    """The nozzle that is best for one thing, and those as good as makes no difference."""

    goal: str
    row: NozzleRow
    from_mm: float
    to_mm: float


@dataclass(frozen=True)
class NozzleSweep:
    """All nozzles tried, as wide as the duct at most, and the best of those that do not stall.

    ``own`` is the nozzle that the set-up has.
    """

    cruise_mps: float
    rows: tuple[NozzleRow, ...]
    own: NozzleRow
    best: tuple[Best, ...]


def with_nozzle(power: PowerArrays, area_m2: float) -> PowerArrays:
    """Return the same power with every nozzle of one area [m²]."""
    units = power.units.copy()
    units[:, thrust.U_NOZZLE_AREA] = area_m2
    return power._replace(units=units)


def nozzle_sweep(found: Performance, cruise_mps: float) -> NozzleSweep:
    """Return what each exit area does, airframe and motor as they are.

    Own: from performance.toml's first share of the ring to the duct's own area; geometry.

    Parameters
    ----------
    found : Performance
        Of the set-up.
    cruise_mps : float [m/s]
        Speed at which throttle and current are compared.

    Raises
    ------
    ValueError
        There is no fan, or the cruise speed lies below the stall.
    """
    if found.power.units[0, thrust.U_KIND] != thrust.FAN:
        raise ValueError("a propeller has no nozzle; leave --nozzle out")
    slowest = float(found.required.speeds_mps[0])
    if cruise_mps <= slowest:
        asked = f"--cruise-{SPEED.suffix} {SPEED.figure(cruise_mps, 'g')}"
        raise ValueError(f"{asked}: must be above the stall, {SPEED(slowest, '.1f')}")
    table, first = tables.performance(), found.power.units[0]
    ring, tip = first[thrust.U_DUCT_AREA], first[thrust.U_TIP_RADIUS]
    widest = pi * tip * tip / ring
    count = int((widest - table.nozzle_from) / table.nozzle_step + 1e-9)
    shares = [table.nozzle_from + i * table.nozzle_step for i in range(count + 1)]
    rows = tuple(nozzle_row(found, x * ring, cruise_mps) for x in [*shares, widest])
    own = nozzle_row(found, first[thrust.U_NOZZLE_AREA], cruise_mps)
    return NozzleSweep(cruise_mps, rows, own, _best(rows))


def nozzle_row(found: Performance, area_m2: float, cruise_mps: float) -> NozzleRow:
    """Return one nozzle's row: area [m²] to diameter [mm] by geometry, the rest as flown."""
    power, rho = with_nozzle(found.power, area_m2), found.ready.density
    still = operating_point(power, 1.0, 0.0, rho)
    duty = duty_for(power, found.required.at(cruise_mps), cruise_mps, rho)
    held = duty <= 1.0
    cruise = operating_point(power, duty, cruise_mps, rho).current_a if held else nan
    limits = float(power.units[:, thrust.U_CURRENT_LIMIT].sum())
    return NozzleRow(
        nozzle_mm=MM * 2.0 * sqrt(area_m2 / pi),
        ring_share=area_m2 / power.units[0, thrust.U_DUCT_AREA],
        static_n=still.net_thrust_n,
        static_a=still.current_a,
        jet_mps=still.jet_speed_mps,
        ideal_share=ideal_share(power, still, 0.0, rho),
        cruise_throttle=duty if held else nan,
        cruise_a=cruise,
        top_mps=fastest(power, 1.0, found.required, rho),
        blades=blades_at(power, 0, still.rotor_speed_rad_s[0], 0.0, rho),
        limited=still.current_a >= limits - 1e-6,
    )


def _best(rows: tuple[NozzleRow, ...]) -> tuple[Best, ...]:
    """Return the best nozzle [mm] for each goal, of those whose blades do not stall.

    Own: the least cruise current, the fastest top speed, the most static thrust; as good is
    within a share (performance.toml) of it.
    """
    steady = [row for row in rows if row.blades == Blades.ATTACHED]
    near = tables.performance().nozzle_as_good
    out = []
    for goal in GOALS:
        merit = _merit(goal, steady)
        if not steady or not np.isfinite(merit).any():
            continue
        top = float(np.nanmax(merit))
        good = [
            row.nozzle_mm for row, x in zip(steady, merit, strict=True) if x >= (1 - near) * top
        ]
        out.append(Best(goal, steady[int(np.nanargmax(merit))], min(good), max(good)))
    return tuple(out)


def _merit(goal: str, rows: list[NozzleRow]) -> Floats:
    """Return what is to be greatest (n,) [1/A, m/s, N]; own."""
    if goal == "cruise":
        return np.array([1.0 / row.cruise_a for row in rows])
    return np.array([row.top_mps if goal == "top" else row.static_n for row in rows])
