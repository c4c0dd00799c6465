"""What a study found as tables: columns by name, with units as the JSON keys have them.

Four tables: the cases of the set-ups, the aft limits, the flights of the cases, and what the
set-ups can do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import inf, nan
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from sim.describe.faults import hint
from sim.fly.columns import SUMMARY, summary_columns
from sim.judge import reasons_of, verdicts_of
from sim.landing.forward import ForwardLimit
from sim.study.results.aft_limit import AftLimit
from sim.study.results.agility import Shown
from sim.study.results.set_up import CaseResult, SetUpResult

Table = Literal["cases", "limits", "flights", "agility"]
Cell = str | float | bool
Column = NDArray[np.generic]


def _known(value: float | None) -> float:
    return nan if value is None else float(value)


def _height(value: float | None) -> float:
    return inf if value is None else value


def _forward(forward: ForwardLimit | None, key: str) -> float:
    return nan if forward is None else _known(getattr(forward, key))


SETUP: dict[str, Callable[[SetUpResult], Cell]] = {
    "setup": lambda x: x.name,
    "pack": lambda x: x.pack,
    "loose_weights": lambda x: x.weights,
    "throws": lambda x: x.throws,
    "nozzle": lambda x: x.nozzle,
    "gyro": lambda x: x.gyro,
    "mass_g": lambda x: x.mass_g,
    "balance_aft_mm": lambda x: x.balance_aft_mm,
    "balance_pct_mac": lambda x: x.balance_pct_mac,
    "neutral_point_pct_mac": lambda x: x.neutral_point_pct_mac,
    "static_margin_pct": lambda x: x.static_margin_pct,
    "stall_speed_mps": lambda x: x.stall_speed_mps,
    "wing_loading_kg_m2": lambda x: x.wing_loading_kg_m2,
    "pack_aft_mm": lambda x: x.pack_aft_mm,
    "trim_tail_deg": lambda x: x.trim.tail_deg,
    "trim_throttle": lambda x: x.trim.throttle,
    "level_cruise_minutes": lambda x: x.trim.minutes,
    "pitch_response_dps2": lambda x: x.trim.pitch_response_dps2,
    "forward_mm": lambda x: _forward(x.forward, "aft_mm"),
}
CASE: dict[str, Callable[[CaseResult], Cell]] = {
    "manoeuvre": lambda x: x.manoeuvre,
    "recovery": lambda x: x.recovery,
    "entry_m": lambda x: x.entry_m,
    "floor_m": lambda x: x.floor_m,
    "flights": lambda x: x.shares.flights,
    "held": lambda x: x.shares.held,
    "recovered": lambda x: x.shares.recovered,
    "lost": lambda x: x.shares.lost,
    "unresolved": lambda x: x.shares.unresolved,
    "hung": lambda x: x.shares.hung,
    "back_share": lambda x: x.shares.back / x.shares.flights,
    "back_low": lambda x: x.shares.back_low,
    "back_high": lambda x: x.shares.back_high,
    "height_lost_median_m": lambda x: _height(x.height_lost_m.median),
    "height_lost_p95_m": lambda x: _height(x.height_lost_m.p95),
    "pull_out_median_m": lambda x: _height(x.pull_out_m.median),
    "pull_out_p95_m": lambda x: _height(x.pull_out_m.p95),
    "entry_height_needed_median_m": lambda x: _height(x.entry_height_needed_m.median),
    "entry_height_needed_p95_m": lambda x: _height(x.entry_height_needed_m.p95),
    "peak_alpha_median_deg": lambda x: _known(x.peak_alpha_deg.median),
    "peak_alpha_p95_deg": lambda x: _known(x.peak_alpha_deg.p95),
    "spin_mode": lambda x: x.spin.mode if x.spin else "",
    "spin_alpha_deg": lambda x: x.spin.alpha_deg if x.spin else nan,
    "spin_yaw_rate_dps": lambda x: x.spin.yaw_rate_dps if x.spin else nan,
    "spin_sink_mps": lambda x: x.spin.sink_mps if x.spin else nan,
    "spin_share": lambda x: x.spin.share if x.spin else 0.0,
}
LIMIT: dict[str, Callable[[AftLimit], Cell]] = {
    "pack": lambda x: x.pack,
    "combination": lambda x: x.combination,
    "like": lambda x: x.like,
    "setups": lambda x: ", ".join(x.setups),
    "gyro": lambda x: x.gyro,
    "manoeuvres": lambda x: ", ".join(x.manoeuvres),
    "recovery": lambda x: x.recovery,
    "aft_mm": lambda x: _known(x.aft_mm),
    "aft_low_mm": lambda x: _known(x.low_mm),
    "aft_high_mm": lambda x: _known(x.high_mm),
    "pct_mac": lambda x: _known(x.pct_mac),
    "neutral_mm": lambda x: _known(x.neutral_mm),
    "neutral_pct_mac": lambda x: _known(x.neutral_pct_mac),
    "static_margin_pct": lambda x: _known(x.margin_pct),
    "behind_neutral_mm": lambda x: x.behind_neutral_mm,
    "share_low": lambda x: x.share_low,
    "share_high": lambda x: x.share_high,
    "draws_used": lambda x: x.draws_used,
    "flights_used": lambda x: x.flights_used,
    "at_end": lambda x: x.at_end,
    "first_failure_mm": lambda x: _known(x.first_failure_mm),
    "forward_mm": lambda x: _forward(x.forward, "aft_mm"),
    "forward_low_mm": lambda x: _forward(x.forward, "low_mm"),
    "forward_high_mm": lambda x: _forward(x.forward, "high_mm"),
    "forward_nominal_mm": lambda x: _forward(x.forward, "nominal_mm"),
}
SHOWN: dict[str, Callable[[Shown], Cell]] = {
    "manoeuvre": lambda x: x.manoeuvre,
    "shows": lambda x: x.shows,
    "unit": lambda x: x.unit,
    "flights": lambda x: x.flights,
    "done": lambda x: x.done,
    "out": lambda x: x.out,
    "out_low": lambda x: x.out_low,
    "out_high": lambda x: x.out_high,
    "figure_median": lambda x: x.figure.median,
    "figure_low": lambda x: x.figure.low,
    "figure_high": lambda x: x.figure.high,
    "counted_median": lambda x: x.counted.median,
    "counted_low": lambda x: x.counted.low,
    "counted_high": lambda x: x.counted.high,
    "time_median_s": lambda x: x.time_s.median,
    "peak_angle_median_deg": lambda x: x.angle_deg.median,
    "pitch_rate_median_dps": lambda x: x.pitch_rate_dps.median,
    "held_angle_median_deg": lambda x: x.held_angle_deg.median,
    "load_median_g": lambda x: x.load_g.median,
    "height_used_median_m": lambda x: x.height_used_m.median,
}
FLIGHT = (
    "setup", "pack", "balance_aft_mm", "manoeuvre", "recovery", "entry_m", "floor_m", "draw",
    "side", "verdict", "reason", *(column.name for column in SUMMARY),
)  # fmt: skip


def study_columns(
    table: Table, setups: Sequence[SetUpResult], limits: Sequence[AftLimit]
) -> dict[str, Column]:
    """Return one of the tables.

    Raises
    ------
    ValueError
        There is no such table.
    """
    if table == "cases":
        return case_columns(setups)
    if table == "limits":
        return limit_columns(limits)
    if table == "flights":
        return flight_columns(setups)
    if table == "agility":
        return agility_columns(setups)
    raise ValueError(f"table: {table!r} is none; {hint(table, get_args(Table), 'tables')}")


def case_columns(setups: Iterable[SetUpResult]) -> dict[str, Column]:
    """Return one row for each set-up and case (n,): what it is, its flights, heights and spin.

    Shares are of 1; a height that too many flights never came back for is infinite, as is any
    other where no flight tells it; what there is none of is NaN.
    """
    pairs = [(setup, case) for setup in setups for case in setup.cases]
    of_setups = {name: np.array([of(setup) for setup, _ in pairs]) for name, of in SETUP.items()}
    of_cases = {name: np.array([of(case) for _, case in pairs]) for name, of in CASE.items()}
    return {**of_setups, **of_cases}


def limit_columns(limits: Sequence[AftLimit]) -> dict[str, Column]:
    """Return one row for each aft limit (n,); NaN where there is none, or nothing bounds it.

    Its 95 % limits are as found; where they are told they are whole mm, rounded forward.
    """
    return {name: np.array([of(limit) for limit in limits]) for name, of in LIMIT.items()}


def agility_columns(setups: Iterable[SetUpResult]) -> dict[str, Column]:
    """Return one row for each set-up and manoeuvre of agility (n,); infinite: not to be had."""
    pairs = [(setup, one) for setup in setups for one in setup.agility]
    of_setups = {name: np.array([of(setup) for setup, _ in pairs]) for name, of in SETUP.items()}
    of_shown = {name: np.array([of(one) for _, one in pairs]) for name, of in SHOWN.items()}
    return {**of_setups, **of_shown}


def flight_columns(setups: Iterable[SetUpResult]) -> dict[str, Column]:
    """Return one row for each flight of the cases (n,); the limits' searches are left out.

    NaN is what has no meaning in a flight that did not come back.
    """
    parts = [_flights(setup, case) for setup in setups for case in setup.cases]
    if not parts:
        return {name: np.array([]) for name in FLIGHT}
    return {name: np.concatenate([part[name] for part in parts]) for name in FLIGHT}


def _flights(setup: SetUpResult, case: CaseResult) -> dict[str, Column]:
    told = (setup.name, setup.pack, setup.balance_aft_mm, case.manoeuvre, case.recovery)
    same = dict(zip(FLIGHT, (*told, case.entry_m, case.floor_m), strict=False))
    verdicts = verdicts_of(case.rows, case.entry_m, case.floor_m)
    reasons = reasons_of(case.rows, case.entry_m, case.floor_m)
    return {
        **{name: np.full(len(case.rows), value) for name, value in same.items()},
        "draw": case.which,
        "side": np.where(case.sides > 0.0, "right", "left"),
        "verdict": np.array([verdict.value for verdict in verdicts]),
        "reason": np.array([reason.value for reason in reasons]),
        **summary_columns(case.rows),
    }
