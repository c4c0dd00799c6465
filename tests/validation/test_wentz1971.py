"""Where the vortex of a sharp delta bursts: W. H. Wentz, D. L. Kohlman (1971) and others."""

import numpy as np
import pytest

from sim.aero.vortex import burst_alpha, vortex_table
from sim.core.lookup import X0
from tests.validation.curves import ALPHA_DEG
from tests.validation.rows import band, cases, check, each

SOURCE = "wentz1971"
# sweep, burst at the trailing edge between; P. B. Earnshaw and J. A. Lawford (1964) alike
BURST = [(60, 13, 15), (65, 18, 21), (70, 28, 31), (75, 34, 37), (80, 39, 42)]


def rows():
    yield from each(SOURCE, "burst at the trailing edge, 4° as a truth", (
        (f"sharp delta swept {sweep}°: angle of burst, °", (low, high),
         lambda sweep=sweep: burst_alpha(sweep))
        for sweep, low, high in BURST
    ), band(4.0), "from memory", made_from="vortex_burst.csv: burst_alpha_deg")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


@pytest.mark.parametrize(("sweep", "low", "high"), BURST)
def test_vortex_flow_fades_about_the_burst(sweep, low, high):
    table = vortex_table(1.3, 3.1, burst_alpha(sweep), 1.0)
    share = np.interp([low - 4.0, high + 4.0], ALPHA_DEG, table[:, X0])
    assert share[0] > 0.9
    assert share[1] < share[0]


def test_forward_sweep_of_the_windward_edge_bursts_earlier():
    assert burst_alpha(70.0 - 5.0) < burst_alpha(70.0)
