"""Kirchhoff's partly separated flow, as M. Goman and A. Khrabrov (1994) use it.

CL over that of attached flow is ((1 + sqrt f)/2)², f the attached share of the chord.
"""

import numpy as np
import pytest

from sim.aero.branches import Branch, assemble
from sim.core.lookup import CN, DCN, G0, X0, attached_share
from tests.validation.rows import absolute, cases, check, each

SOURCE = "goman1994"
RATIOS = [(1.0, 1.0), (0.7, 0.84333), (0.5, 0.72855), (0.25, 0.5625), (0.0, 0.25)]


def lift_ratio(attached):
    """Return what a strip with an attached chord share makes of its attached force.

    The strip's separated branch is Kirchhoff's, a quarter of the attached one; the strip
    adds both up as the kernel does, from a static share of one half.
    """
    none = np.zeros(1)
    table = assemble(
        Branch(np.ones(1), none, none), Branch(0.25 * np.ones(1), none, none), np.array([0.5]),
        np.ones(1),
    )[0]  # fmt: skip
    assert attached_share(table[X0]) == pytest.approx(table[G0], rel=1e-12)
    return table[CN] + (attached_share(attached) - table[G0]) * table[DCN]


def rows():
    yield from each(SOURCE, "Kirchhoff's ((1 + sqrt f)/2)²", (
        (f"attached share {f:g}: lift over attached", ratio, lambda f=f: lift_ratio(f))
        for f, ratio in RATIOS
    ), absolute(5e-6), "computed")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
