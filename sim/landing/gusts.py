"""Gusts on the approach: real flights through one 1-cosine gust, gyro off and on."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees

import numpy as np

from sim import tables
from sim.describe import Manoeuvre, Recovery
from sim.fly.columns import Floats
from sim.fly.flying import fly_one
from sim.pack.assemble import Assembled, assemble


@dataclass(frozen=True)
class Peaks:
    """What a gust does at most: load factors [g], bank [deg], angle of attack [deg].

    ``margin_deg`` is what the angle of attack leaves to the nominal stall; below 0 it went beyond.
    """

    most_load_g: float
    least_load_g: float
    bank_deg: float
    alpha_deg: float
    margin_deg: float


@dataclass(frozen=True)
class GustResponse:
    """One gust with the gyro off or on: nominal, and the worst that any draw did of each.

    ``stalled`` of the ``draws`` went beyond the nominal stall's angle.
    """

    manoeuvre: str
    title: str
    gust_mps: float
    side_gust_mps: float
    length_m: float
    speed_mps: float
    gyro: bool
    nominal: Peaks
    worst: Peaks
    draws: int
    stalled: int


def gust_responses(
    ready: Assembled, manoeuvres: Sequence[Manoeuvre], recovery: Recovery, draws: Floats
) -> tuple[GustResponse, ...]:
    """Return what each gust does, gyro off, and on where there is one.

    Parameters
    ----------
    manoeuvres : sequence of Manoeuvre
        Each with a gust; their first phase is looked at.
    draws : float array (n, N_DRAW)
        Offsets in physical units.
    """
    have = ready.setup.gyro_settings is not None
    switched = {on: _gyro(ready, on) for on in ((False, True) if have else (False,))}
    return tuple(
        _response(assembled, on, manoeuvre, recovery, draws)
        for manoeuvre in manoeuvres
        for on, assembled in switched.items()
    )


def _gyro(ready: Assembled, on: bool) -> Assembled:
    wanted = "on" if on else "off"
    if ready.setup.gyro == wanted:
        return ready
    return assemble(ready.aeroplane, ready.setup.model_copy(update={"gyro": wanted}))


def _response(
    ready: Assembled, on: bool, manoeuvre: Manoeuvre, recovery: Recovery, draws: Floats
) -> GustResponse:
    stall = degrees(ready.stall.alpha)
    nominal = _peaks(ready, manoeuvre, recovery, None, stall)
    each = [_peaks(ready, manoeuvre, recovery, draw, stall) for draw in draws]
    start = manoeuvre.start
    return GustResponse(
        manoeuvre=manoeuvre.name,
        title=manoeuvre.title,
        gust_mps=start.gust_mps,
        side_gust_mps=start.side_gust_mps,
        length_m=start.gust_length_m,
        speed_mps=start.speed_over_stall * ready.stall.speed_mps,
        gyro=on,
        nominal=nominal,
        worst=Peaks(
            most_load_g=max(x.most_load_g for x in each),
            least_load_g=min(x.least_load_g for x in each),
            bank_deg=max(x.bank_deg for x in each),
            alpha_deg=max(x.alpha_deg for x in each),
            margin_deg=min(x.margin_deg for x in each),
        ),
        draws=len(each),
        stalled=sum(x.margin_deg < 0.0 for x in each),
    )


def _peaks(
    ready: Assembled, manoeuvre: Manoeuvre, recovery: Recovery, draw: Floats | None, stall: float
) -> Peaks:
    """Return the extremes of a flight's first phase from just before the gust on."""
    flown = fly_one(ready, manoeuvre, recovery, draw=draw).to_columns()
    at = (flown["phase"] == 0) & (flown["time_s"] >= manoeuvre.start.gust_at_s)
    load, alpha = flown["load_factor_g"][at], flown["alpha_deg"][at]
    if not at.any():
        return Peaks(np.inf, -np.inf, 180.0, 90.0, stall - 90.0)  # it did not even fly: the worst
    return Peaks(
        most_load_g=float(load.max()),
        least_load_g=float(load.min()),
        bank_deg=float(np.abs(flown["roll_deg"][at]).max()),
        alpha_deg=float(alpha.max()),
        margin_deg=float(stall - alpha.max()),
    )


def gust_names() -> tuple[str, ...]:
    """Return the manoeuvres of landing.toml that fly through a gust."""
    return tuple(tables.landing().gusts)
