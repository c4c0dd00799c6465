"""Where the vortex of a sharp delta bursts: W. H. Wentz, D. L. Kohlman (1971) and others."""

from functools import lru_cache

import numpy as np
import pytest

from sim.aero.geometry.lattice import polhamus, trapezoid
from sim.aero.sections.vortex import burst_alpha, vortex_table
from sim.core.loads.lookup import CC, CN, X0
from tests.validation.curves import ALPHA_DEG
from tests.validation.rows import band, cases, check, each, relative

SOURCE = "wentz1971"
# sweep, burst at the trailing edge between; P. B. Earnshaw and J. A. Lawford (1964) alike
BURST = [(60, 13, 15), (65, 18, 21), (70, 28, 31), (75, 34, 37), (80, 39, 42)]
# sweep, greatest lift, lift at 50 deg: W. H. Wentz, D. L. Kohlman, NASA CR-98737, 1968
LIFT = [(60, 1.20, 0.92), (65, 1.30, 0.97), (70, 1.38, 1.02), (75, 1.33, 1.03)]
# what stays after burst was set from these very deltas
LEFT = "vortex_model.toml: swept_fullness"


@lru_cache
def lift(sweep):
    """Return angles [deg] and CL of a sharp delta up to 60 deg, as the build-up makes it."""
    half_span = 1.0 / np.tan(np.radians(sweep))
    kp, kv = polhamus(trapezoid(half_span, 1.0, 1e-3, np.radians(sweep)))
    table = vortex_table(kp, kv, burst_alpha(sweep), 4.0 * half_span, edge_sweep_deg=sweep)
    inside = (ALPHA_DEG >= 0.0) & (ALPHA_DEG <= 60.0)
    alpha = np.radians(ALPHA_DEG[inside])
    return ALPHA_DEG[inside], table[inside, CN] * np.cos(alpha) + table[inside, CC] * np.sin(alpha)


def lift_at(sweep, alpha_deg):
    return float(np.interp(alpha_deg, *lift(sweep)))


def rows():
    yield from each(SOURCE, "burst at the trailing edge, 4° as a truth", (
        (f"sharp delta swept {sweep}°: angle of burst, °", (low, high),
         lambda sweep=sweep: burst_alpha(sweep))
        for sweep, low, high in BURST
    ), band(4.0), "from memory", made_from="vortex_burst.csv: burst_alpha_deg")  # fmt: skip
    yield from each("wentz1968", "sharp deltas, 10 % as recalled", (
        (f"sharp delta swept {sweep}°: greatest lift", most,
         lambda sweep=sweep: lift(sweep)[1].max())
        for sweep, most, _ in LIFT
    ), relative(0.10), "from memory", made_from=LEFT)  # fmt: skip
    yield from each("wentz1968", "sharp deltas after burst, 15 % as recalled", (
        (f"sharp delta swept {sweep}°: lift at 50°", after,
         lambda sweep=sweep: lift_at(sweep, 50.0))
        for sweep, _, after in LIFT
    ), relative(0.15), "from memory", made_from=LEFT)  # fmt: skip


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
