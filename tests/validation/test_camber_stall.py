"""What camber does to the stall of a section inverted, by an open fit to a section code.

NeuralFoil 0.3.3 (Python package index), model xlarge: the first peak of lift before a fall of
3 %, on half-degree steps, of four-digit sections with their crest at 0.4 and of those without
camber. The library rates its own confidence 0.4 to 0.97 here.
"""

import numpy as np
import pytest

from sim.aero.sections.aerofoil import section_table
from sim.core.loads.lookup import G0
from tests.validation.curves import ALPHA_DEG
from tests.validation.rows import absolute, cases, check, each

SOURCE = "neuralfoil"
# Reynolds number, thickness and camber [%], how much nearer to 0° it peaks inverted [°]
NEARER = [
    (1e5, 12.0, 2.0, 2.5), (1e5, 12.0, 4.0, 4.0), (1e5, 9.0, 2.0, 2.0), (1e5, 15.0, 2.0, 2.5),
    (2e5, 12.0, 2.0, 2.0), (2e5, 12.0, 4.0, 4.5), (2e5, 9.0, 2.0, 2.0), (2e5, 15.0, 2.0, 3.5),
]  # fmt: skip
MADE_FROM = "section_model.toml: camber_stall_share_inverted"


def inverted_stall(reynolds, thickness, camber):
    """Return the size of the angle [°] where half of attached flow's share is lost."""
    table = section_table(thickness, camber, "round", reynolds, np.inf)
    stalls = (ALPHA_DEG < 0.0) & (ALPHA_DEG > -40.0)
    return float(-np.interp(0.5, table[stalls, G0], ALPHA_DEG[stalls]))


def nearer(reynolds, thickness, camber):
    plain = inverted_stall(reynolds, thickness, 0.0)
    return plain - inverted_stall(reynolds, thickness, camber)


def rows():
    # twice the stated uncertainty of the share, of 2 % camber's 2.1° of zero lift
    where = "four-digit sections against those without camber; twice the share's uncertainty"
    yield from each(SOURCE, where, (
        (f"inverted stall, {c:.0f} % camber, {t:.0f} % thick, Re {re:,.0f}: nearer to 0° by, °",
         value, lambda a=(re, t, c): nearer(*a))
        for re, t, c, value in NEARER
    ), absolute(1.7), "library", made_from=MADE_FROM)  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
