"""Which uncertainty decided: rank correlation of each draw with coming back."""

import numpy as np
from scipy.stats import spearmanr

from sim import tables
from sim.core.draw_layout import (
    D_BALANCE_RIGHT,
    D_FIN_RIG,
    D_FOREBODY,
    D_LINKAGE,
    D_WING_RIG,
    DRAW_COLUMNS,
)
from sim.judge import is_back
from sim.study.flights.draws import Draws
from sim.study.results.result import Factor
from sim.study.results.set_up import CaseResult
from sim.tables.models.uncertainty import Spread

# what pulls to one side helps entries to that side and hinders the others
LATERAL = frozenset({D_BALANCE_RIGHT, D_WING_RIG, D_FIN_RIG, D_FOREBODY, D_LINKAGE})


def deciding_factors(
    cases: list[CaseResult], draws: Draws, spreads: tuple[Spread, ...], most: int = 6
) -> tuple[tuple[Factor, ...], int]:
    """Return the factors that go with coming back, strongest first, and how many draws tell.

    The draws are those of the mixed case that flew fewest.

    Spearman's rank correlation in each mixed case, averaged with the number of flights
    as weight. Those below twice the standard error of no correlation are left out. A
    balance or rig that pulls one way helps to one side only, so lateral ones are counted
    towards the side of the entry.
    """
    mixed = tables.study().mixed_share
    total = np.zeros(len(spreads))
    weight = 0
    fewest = len(draws.normal)
    for case in cases:
        back = is_back(case.rows, case.entry_m, case.floor_m).astype(float)
        if not mixed <= back.mean() <= 1.0 - mixed:
            continue
        fewest = min(fewest, len(back))
        normal = draws.normal[case.which]
        for j, spread in enumerate(spreads):
            column = DRAW_COLUMNS[spread.name]
            towards = case.sides if column in LATERAL else 1.0
            value = spearmanr(normal[:, column] * towards, back).statistic
            total[j] += len(back) * (0.0 if np.isnan(value) else float(value))
        weight += len(back)
    if weight == 0:
        return (), 0
    mean = total / weight
    order = np.argsort(-np.abs(mean))
    bound = 2.0 / np.sqrt(weight)
    found = tuple(
        Factor(spreads[j].name, spreads[j].text, spreads[j].measure, float(mean[j]))
        for j in order[:most]
        if abs(mean[j]) > bound
    )
    return found, fewest
