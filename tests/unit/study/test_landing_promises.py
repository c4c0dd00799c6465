"""What measuring would change of a forward limit: what is narrowed, told, and left out."""

import numpy as np
import pytest

from sim.core.draw_layout import D_THROW, D_WIND, N_DRAW
from sim.pack.measurable import Measurement, Narrowed
from sim.study.measure.landing import landing_promises


def job(name, draw, now, then):
    return Measurement(name, name, "a ruler", True, (), (Narrowed(draw, "share", now, then),))


def test_a_measurement_is_told_by_what_it_leaves_of_the_draws_alone():
    draws = np.zeros((4, N_DRAW))
    draws[:, D_THROW], draws[:, D_WIND] = [-0.1, -0.05, 0.05, 0.1], 3.0
    seen = []

    def limit_of(given):
        seen.append(given)
        return 100.0 + 400.0 * float(np.abs(given[:, D_THROW]).max())

    wishes = [job("half", "throw", 0.08, 0.04), job("hardly", "throw", 0.08, 0.0799),
              job("gusts", "wind", 1.0, 0.1), job("more", "throw", 0.08, 0.02)]  # fmt: skip
    told = landing_promises(wishes, draws, 140.0, limit_of)
    # the best first; what moves it by less than a millimetre is left out
    assert [x.text for x in told] == ["more", "half"]
    assert [x.aft_mm for x in told] == pytest.approx([110.0, 120.0])
    assert len(seen) == 3  # wind moves no slow approach
    assert all((x[:, D_WIND] == 3.0).all() for x in seen)
    assert draws[0, D_THROW] == -0.1  # the study's own stay
