"""Flight time and timer of a set-up: a discharge added up, with what is not known drawn."""

from dataclasses import dataclass
from math import exp, floor

import numpy as np
from numpy.typing import NDArray
from scipy.stats import norm, qmc

from sim import tables
from sim.describe.duty import WORKS, Duty
from sim.pack.assemble import Assembled
from sim.power.full_load import full_load
from sim.power.pack import (
    capacity_share,
    cell_voltage,
    cell_voltage_sd,
    current_at_power,
    resistance_mohm,
    resistance_sd_log,
    usable_mah,
)
from sim.study.flight_time.mix import Mix, charged_of, mix_of
from sim.study.flight_time.work import Demands, demands
from sim.study.results.flight_time import FlightTime, Spread, Work

Floats = NDArray[np.float64]
CUT_SDS = 2.5
MOST_FULL_SHARE = 0.95  # of the time at full throttle, whatever is drawn


@dataclass(frozen=True)
class PackDraws:
    """What is not known of packs and flying: standard normal (n,) each, for every set-up alike."""

    resistance: Floats
    capacity: Floats
    drag: Floats
    hard: Floats
    cell: Floats
    speed: Floats


def pack_draws(count: int, seed: int) -> PackDraws:
    """Return draws: scrambled Sobol points of `scipy.stats.qmc`, cut."""
    points = qmc.Sobol(6, scramble=True, seed=seed).random(count)
    normal = np.clip(norm.ppf(np.clip(points, 1e-9, 1.0 - 1e-9)), -CUT_SDS, CUT_SDS)
    return PackDraws(*normal.T)


def flight_time(
    assembled: Assembled, study: Duty | None = None, seed: int = 0
) -> FlightTime | None:
    """Return how long a set-up flies to its pack's reserve; None where nothing flies level.

    So it is without a motor: a receiver's current is not told.

    Minutes are the integral over the charge of 1 / current, the current being the sum over kinds
    of work of share times current at that charge (own). Where the charger told a current,
    they are the plain proportion usable / put back x flown.
    """
    aeroplane, setup = assembled.aeroplane, assembled.setup
    if not aeroplane.has_motor:
        return None
    mix = mix_of(aeroplane, setup, study)
    asked = demands(assembled, mix)
    if asked is None:
        return None
    draws = pack_draws(tables.flight_time().draws, seed)
    currents = _currents(assembled, asked, mix, draws)
    shares = _shares(mix, draws)
    minutes = _minutes(assembled, mix, np.einsum("wn,wnk->nk", shares, currents), draws)
    alone = _minutes(assembled, mix, currents[0], draws)
    spread = Spread(*(float(x) for x in np.quantile(minutes, (0.1, 0.5, 0.9))))
    pack = aeroplane.packs[setup.pack]
    usable = usable_mah(pack, mix.reserve_pct)
    least = float(np.quantile(minutes, 1.0 - tables.flight_time().timer_share))
    charged = charged_of(aeroplane, setup)
    if charged is not None:
        spread = _measured(usable, *charged)
        least = spread.middle
    return FlightTime(
        pack=setup.pack,
        reserve_pct=mix.reserve_pct,
        usable_mah=usable,
        works=_works(asked, mix, currents),
        assumed=mix.assumed,
        charged=charged,
        current_a=0.06 * usable / spread.middle,
        minutes=spread,
        timer_min=_timer(least),
        cruise_alone_min=float(np.median(alone)),
        top_mps=asked.top_mps,
        load=full_load(assembled.power, pack, assembled.density, mix.reserve_pct),
    )


def _measured(usable: float, put_back: float, flown_min: float) -> Spread:
    """Return minutes from what the charger put back [mAh] after a flight [min]; own spread."""
    minutes = flown_min * usable / put_back
    apart = exp(float(norm.ppf(0.9)) * tables.flight_time().measured_sd_log)
    return Spread(minutes / apart, minutes, minutes * apart)


def _timer(minutes: float) -> float:
    step = tables.flight_time().timer_step_min
    return step * floor(minutes / step + 1e-9)


def _charges(mix: Mix) -> Floats:
    """Return the charge [% of capacity] in the middle of equal parts, full to the reserve."""
    steps = tables.flight_time().charge_steps
    middles = (np.arange(steps) + 0.5) / steps
    return np.asarray(100.0 - (100.0 - mix.reserve_pct) * middles)


def _currents(assembled: Assembled, asked: Demands, mix: Mix, draws: PackDraws) -> Floats:
    """Return currents [A] (works, draws, charges) of each kind of work."""
    pack = assembled.aeroplane.packs[assembled.setup.pack]
    table, charges = tables.flight_time(), _charges(mix)
    rest = np.array([cell_voltage(x) for x in charges])
    apart = np.array([cell_voltage_sd(x) for x in charges])
    volts = pack.cells * (rest + draws.cell[:, None] * apart)
    spread = np.exp(resistance_sd_log(pack) * draws.resistance)[:, None]
    ohms = np.broadcast_to(resistance_mohm(pack) / 1000.0 * spread, volts.shape)
    full = asked.full_at_cruise((volts, ohms))
    climb = asked.full_at_climb((volts, ohms))
    drag = 1.0 + table.drag_sd_pct / 100.0 * draws.drag
    faster = 1.0 + table.cruise_share_sd / table.cruise_share_of_top * draws.speed
    cruise_w = asked.cruise.power(asked.cruise_n * drag)
    cruise_w = cruise_w * np.interp(faster, asked.faster, asked.faster_power)
    pass_w = asked.high_alpha.power(asked.pass_n * drag)
    cruise = current_at_power(cruise_w[:, None], volts, ohms)
    slow = current_at_power(pass_w[:, None], volts, ohms)
    # no more than full throttle gives, nor where the pack cannot give the power at all
    return np.array([np.fmin(cruise, full), full, climb, np.fmin(slow, climb)])


def _shares(mix: Mix, draws: PackDraws) -> Floats:
    """Return shares of time (works, draws) [-]: more or less of it at full throttle."""
    nominal = np.array(mix.shares_pct) / sum(mix.shares_pct)
    hard = np.array([False, True, True, False])
    full = nominal[hard].sum()
    if full in (0.0, 1.0):  # nothing to move between
        return np.repeat(nominal[:, None], len(draws.hard), axis=1)
    most = max(full, MOST_FULL_SHARE)
    drawn = np.minimum(full * np.exp(tables.flight_time().mix_sd_log * draws.hard), most)
    moved = np.where(hard[:, None], drawn / full, (1.0 - drawn) / (1.0 - full))
    return np.asarray(moved * nominal[:, None])


def _minutes(assembled: Assembled, mix: Mix, currents: Floats, draws: PackDraws) -> Floats:
    """Return minutes (draws,) to the reserve at currents [A] (draws, charges)."""
    table = tables.flight_time()
    pack = assembled.aeroplane.packs[assembled.setup.pack]
    held = capacity_share(pack) + table.capacity_share_sd * draws.capacity
    hours = pack.capacity_mah / 1000.0 * held * (1.0 - mix.reserve_pct / 100.0)
    return np.asarray(60.0 * hours * (1.0 / currents).mean(axis=1))


def _works(asked: Demands, mix: Mix, currents: Floats) -> tuple[Work, ...]:
    typical = np.median(currents.mean(axis=2), axis=1)
    cruise, slow = asked.cruise, asked.high_alpha
    speeds = (cruise.speed_mps, cruise.speed_mps, asked.climb_mps, slow.speed_mps)
    throttles = (cruise.throttle(asked.cruise_n), 1.0, 1.0, slow.throttle(asked.pass_n))
    holds = (cruise.holds(asked.cruise_n), True, True, slow.holds(asked.pass_n))
    return tuple(
        Work(name, share, speed, throttle, float(current), held)
        for name, share, speed, throttle, current, held in zip(
            WORKS, mix.shares_pct, speeds, throttles, typical, holds, strict=True
        )
    )
