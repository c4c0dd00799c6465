"""The uncertainty table is bound to the draw by name: order means nothing, slips are told."""

import ast
import inspect
import random
from types import SimpleNamespace

import numpy as np
import pytest

from sim import tables
from sim.core import draw_layout as d
from sim.core import script_layout as s
from sim.core.flights import perturb
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.pack.assemble import assemble, flown_spreads
from sim.pack.spreads import (
    bound_spreads,
    default_spreads,
    physical,
    spreads_of,
    table_ends,
)
from sim.study import factors
from sim.study.factors import deciding_factors
from sim.study.flights.draws import make_draws


@pytest.fixture
def entries():
    """Return the entries as they stand in the file."""
    return list(tables.uncertainty().entries)


def test_every_column_has_one_name():
    assert sorted(d.DRAW_COLUMNS.values()) == list(range(d.N_DRAW))


def test_every_column_is_used_by_the_kernel():
    # a column that nothing reads would be a spread without effect
    named = {
        node.id
        for node in ast.walk(ast.parse(inspect.getsource(perturb)))
        if isinstance(node, ast.Name)
    }
    through = set(d.TABLE_DRAWS) | set(d.ROLE_DRAWS)
    columns = {n: c for n, c in vars(d).items() if n.startswith("D_")}
    assert {n for n, c in columns.items() if c not in through} <= named
    assert {"TABLE_DRAWS", "ROLE_DRAWS"} <= named


@pytest.mark.parametrize("seed", range(3))
def test_order_of_the_entries_means_nothing(entries, seed):
    random.Random(seed).shuffle(entries)
    found = bound_spreads(entries)
    assert found == default_spreads()
    assert make_draws(found, 8, 3).physical == pytest.approx(
        make_draws(default_spreads(), 8, 3).physical, abs=0.0
    )


def test_two_swapped_entries_fly_the_same(entries, monkeypatch, display_jet):
    i, j = (n for n, e in enumerate(entries) if e.name in ("stall_angle", "wind"))
    entries[i], entries[j] = entries[j], entries[i]
    swapped = tables.uncertainty().model_copy(update={"entries": tuple(entries)})
    monkeypatch.setattr(tables, "uncertainty", lambda: swapped)
    default_spreads.cache_clear()
    try:
        again = assemble(display_jet.aeroplane, display_jet.setup)
    finally:
        monkeypatch.undo()
        default_spreads.cache_clear()
    assert again.spreads == display_jet.spreads
    assert np.array_equal(again.model.table_ends, display_jet.model.table_ends)
    draws = make_draws(again.spreads, 8, 3).physical
    assert np.array_equal(draws, make_draws(display_jet.spreads, 8, 3).physical)
    new, old = (perturb.perturbed(x.model, x.roles, draws[5]) for x in (again, display_jet))
    assert all(np.array_equal(a, b) for a, b in zip(new, old, strict=True))
    scripts = load_manoeuvre("incipient_spin"), load_recovery("centre_sticks")
    flights = [fly_one(x, *scripts, draw=draws[5]) for x in (again, display_jet)]
    assert np.array_equal(flights[0].summary, flights[1].summary)
    assert np.array_equal(flights[0].history, flights[1].history)


def test_table_ends_and_units_go_by_name():
    wide = [x.model_copy(update={"sd": 0.01 * (n + 1)}) for n, x in enumerate(default_spreads())]
    at = {x.name: x.sd for x in wide}
    ends = table_ends(tuple(reversed(wide)))
    assert ends == pytest.approx(
        [
            2.0 * at[name]
            for name in ("stall_angle", "post_stall_force", "burst_angle", "vortex_lift",
                         "stall_region", "centre_of_pressure", "plate_force")
        ]
    )  # fmt: skip
    one = np.ones((1, d.N_DRAW))
    forwards, backwards = physical(tuple(wide), one), physical(tuple(reversed(wide)), one)
    assert np.array_equal(forwards, backwards)
    assert forwards[0, d.D_WIND] == at["wind"]
    assert forwards[0, d.D_STALL_ANGLE] == 0.5


def test_deciding_factors_go_by_name():
    # coming back follows the sideways balance point towards the side of the entry, alone
    draws = make_draws(default_spreads(), 64, 1)
    towards = draws.normal[:, d.D_BALANCE_RIGHT] * draws.sides
    rows = np.zeros((64, s.N_SUMMARY))
    case = SimpleNamespace(rows=rows, entry_m=100.0, floor_m=20.0, which=np.arange(64),
                           sides=draws.sides)  # fmt: skip
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(factors, "is_back", lambda *_: towards > 0.0)
        found = [
            deciding_factors([case], draws, order)[0][0].name
            for order in (default_spreads(), tuple(reversed(default_spreads())))
        ]
    assert found == ["balance_right", "balance_right"]


def test_what_is_trimmed_out_is_not_flown_unless_asked_for():
    jet = load_aeroplane("display_jet")
    flown = {x.name: x.sd for x in flown_spreads(jet)}
    known = {x.name: x.sd for x in spreads_of(jet)}
    assert flown.pop("trim_error") == 0.0 < known.pop("trim_error")
    assert flown == known
    own = jet.model_copy(update={"uncertainty": {"trim_error": 0.02}})
    assert {x.name: x.sd for x in flown_spreads(own)}["trim_error"] == 0.02
