"""Facts of the trade on what going aft and more throw buy: common practice, no source."""

import numpy as np

from sim.core import measured_layout as m
from sim.core.draw_layout import D_ERRORS
from sim.describe import load_manoeuvre, load_recovery
from sim.fly.measured import fly_measured
from sim.study.flights.draws import make_draws
from tests.trade.flown import HEIGHT_M, jet

DRAWS = 8
FORWARD, AFT = 105.0, 190.0  # mm


def peak_deg(balance_mm: float, like: str) -> float:
    """Return the median peak angle of a pull-through."""
    ready = jet(balance_mm, like=like)
    drawn = make_draws(ready.spreads, DRAWS, 5).physical
    drawn[:, D_ERRORS:] = 0.0
    scripts = load_manoeuvre("pull_through"), load_recovery("fly_on")
    rows = fly_measured(ready, *scripts, drawn, np.arange(DRAWS), np.ones(DRAWS), HEIGHT_M)
    return float(np.degrees(np.median(rows[:, m.M_ANGLE])))


def test_more_tail_throw_does_little_forward_and_much_aft():
    """With 22 deg of tail for 14: not past the stall forward, a swing of the nose aft."""
    small = {mm: peak_deg(mm, "club") for mm in (FORWARD, AFT)}
    large = {mm: peak_deg(mm, "big_throws") for mm in (FORWARD, AFT)}
    gained = {mm: large[mm] - small[mm] for mm in (FORWARD, AFT)}
    assert gained[AFT] > 2.0 * gained[FORWARD]
    assert large[FORWARD] < 25.0
    # going aft with the old throws gives more than the throws alone do
    assert small[AFT] > large[FORWARD] + 20.0
