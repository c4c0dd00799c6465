"""What set-ups give against what they risk, and which are the best compromises."""

from collections.abc import Sequence
from typing import Literal

import numpy as np

from sim.judge.agility import FIGURES
from sim.study.results.agility import Shown, Spread
from sim.study.results.set_up import CaseResult, SetUpResult
from sim.study.standing.chance import quantile_limits
from sim.study.standing.heights import needed_heights, quantile
from sim.study.standing.outcomes import best_recovery, worst_case

Risk = Literal["lost", "height"]
RISKS: tuple[Risk, ...] = ("lost", "height")
NOMINAL = ("pitch_response", "throttle", "pitch_trim")  # gains of level flight, nothing drawn
P95 = 0.95


def shown(setup: SetUpResult, manoeuvre: str) -> Shown | None:
    """Return what a set-up shows in a manoeuvre; None if it did not fly it."""
    return next((x for x in setup.agility if x.manoeuvre == manoeuvre), None)


def achieved(x: Shown) -> bool:
    """Tell whether half of the flights or more did what the manoeuvre is flown for."""
    return 2 * x.done >= x.flights > 0


def gain_of(setup: SetUpResult, gain: str) -> Spread:
    """Return what a set-up gives: a manoeuvre's figure as it counts, or one of level flight.

    Parameters
    ----------
    gain : str
        Name of a manoeuvre of agility, or one of `NOMINAL`, at the cruise speed of the study.
    """
    if gain not in NOMINAL:
        one = shown(setup, gain)
        return Spread(np.nan, np.nan, np.nan) if one is None else one.counted
    trim = setup.trim
    values = dict(
        zip(NOMINAL, (trim.pitch_response_dps2, 100.0 * trim.throttle, trim.tail_deg), strict=True)
    )
    return Spread(values[gain], values[gain], values[gain])


def less_is_better(setups: Sequence[SetUpResult], gain: str) -> bool:
    """Tell whether less of a gain is better."""
    if gain in NOMINAL:
        return gain == "throttle"
    kinds = [x.shows for setup in setups if (x := shown(setup, gain)) is not None]
    return bool(kinds) and FIGURES[kinds[0]].less


def risk_of(setup: SetUpResult, risk: Risk, required_share_pct: float) -> Spread:
    """Return what a set-up risks, with 95 % limits; see `lost_share` and `height_needed`."""
    of = lost_share if risk == "lost" else height_needed
    return Spread(*of(setup, required_share_pct))


def lost_share(setup: SetUpResult, required_share_pct: float) -> tuple[float, float, float]:
    """Return the share lost in the worst manoeuvre by the best recovery, with 95 % limits."""
    case = worst_case(best_recovery(setup, required_share_pct), required_share_pct)
    if case is None:
        return 0.0, 0.0, 1.0
    shares = case.shares
    lost = 1.0 - shares.back / max(shares.flights, 1)
    return lost, 1.0 - shares.back_high, 1.0 - shares.back_low


def highest_case(setup: SetUpResult, required_share_pct: float) -> CaseResult | None:
    """Return the case of the best recovery that needs most height for 95 % of flights."""
    cases = best_recovery(setup, required_share_pct)
    return max(cases, key=lambda c: quantile(needed_heights(c), P95), default=None)


def height_needed(setup: SetUpResult, required_share_pct: float) -> tuple[float, float, float]:
    """Return the entry height 95 % of flights need [m], with 95 % limits; maybe infinite."""
    case = highest_case(setup, required_share_pct)
    if case is None:
        return np.inf, 0.0, np.inf
    values = needed_heights(case)
    return (quantile(values, P95), *quantile_limits(values, P95))


def best_compromises(
    setups: Sequence[SetUpResult], gain: str, risk: Risk, required_share_pct: float
) -> tuple[str, ...]:
    """Return the set-ups that no other one beats: none gives as much for less risk.

    By the middle values; one without level flight, or that does not give it at all, is none.
    """
    sign = -1.0 if less_is_better(setups, gain) else 1.0
    points = {
        x.name: (sign * gain_of(x, gain).median, risk_of(x, risk, required_share_pct).median)
        for x in setups
        if x.trim.found and gives(gain_of(x, gain).median)
    }
    others = tuple(points.values())
    return tuple(name for name, at in points.items() if not any(_beats(b, at) for b in others))


def gives(gain: float) -> bool:
    """Tell whether a gain is there at all: some number that is not nought."""
    return bool(np.isfinite(gain)) and gain != 0.0


def _beats(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Tell whether a point (gain, risk) is no worse in either and better in one."""
    return one[0] >= other[0] and one[1] <= other[1] and one != other
