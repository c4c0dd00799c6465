"""A bifilar swing test: *Measuring the moment of inertia of a UAV*, a web article.

0.980 kg hung by wires 175 mm either side of its middle, 1.55 m long; nine swings in 16.5 s.
The article prints 0.0161 kg m² (two figures behind, cut rather than rounded).
"""

import pytest

from sim.weigh import swing_inertia
from tests.validation.rows import Row, absolute, cases, check, relative

SOURCE = "uav_swing"


def inertia():
    return swing_inertia(
        mass_kg=0.980, wire_spacing_m=0.350, wire_length_m=1.55, period_s=16.5 / 9.0
    )


def rows():
    yield Row(
        SOURCE, "its result, cut to three figures", "small flying wing: inertia, kg m²", 0.0161,
        inertia, absolute(1e-4), "published",
    )  # fmt: skip
    yield Row(
        "closed_form", "m g D² T²/(16 pi² L)", "the same: inertia, kg m²", 0.016166, inertia,
        relative(1e-4), "computed",
    )  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
