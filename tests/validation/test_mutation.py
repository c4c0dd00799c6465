"""The machinery that makes physics wrong: it does what it says, is noticed, and leaves no trace."""

import json
from contextlib import nullcontext

import numpy as np
import pytest

from sim import tables
from sim.aero.sections import aerofoil, separated, vortex
from sim.core.loads.lookup import CN
from tests.validation import curves, mutants, mutation, tampering
from tests.validation import test_critzos1955 as critzos
from tests.validation import test_hoerner1965 as hoerner
from tests.validation import test_rayleigh1876 as rayleigh
from tests.validation.rows import Row, absolute


@pytest.fixture(scope="module")
def handful():
    return [*hoerner.rows(), *critzos.rows(), *rayleigh.rows()]


def mutant(name):
    return next(one for one in mutants.MUTANTS if one.name == name)


def test_unmutated_rows_do_not_flip(handful):
    before = mutation.held(handful)
    assert before == [not row.reason for row in handful]
    assert mutation.noticed(handful, before, mutation.held(handful)) == []


@pytest.mark.parametrize("name", ["plate force x 0.8", "post-stall force x 0.85"])
def test_an_independent_row_notices(handful, name):
    before = mutation.held(handful)
    found = mutation.noticed(handful, before, mutation.held(handful, mutant(name).context))
    assert "independent" in {row.kind for row in found}
    assert mutation.held(handful) == before  # and it is over


def test_a_moved_centre_of_pressure_is_noticed_by_what_it_made(handful):
    before = mutation.held(handful)
    name = "centre of pressure beyond stall + 0.05 chord"
    found = mutation.noticed(handful, before, mutation.held(handful, mutant(name).context))
    assert {row.kind for row in found} == {"given back"}


def test_names_and_notes():
    names = [one.name for one in mutants.MUTANTS]
    assert len(names) == len(set(names)) >= 15


def found(name, note, *kinds):
    basis = {"independent": {"observed": True}, "given back": {"made_from": "a.csv: b"}}
    rows = [
        Row("x", "", f"{name}, {kind}", 1.0, float, absolute(1.0), "published", **basis[kind])
        for kind in kinds
    ]
    return mutation.Found(mutants.Mutant(name, nullcontext, note), rows)


def test_the_table_and_its_record(monkeypatch, capsys, tmp_path):
    some = [found("lift", "", "independent", "given back"), found("wake", "judgement")]
    monkeypatch.setattr(mutation, "find", lambda rows: some)
    assert mutation.run([], str(tmp_path / "mutants.json")) == 0
    words = " ".join(capsys.readouterr().out.split())
    assert "lift (independent): lift, independent" in words
    assert "wake: judgement" in words
    assert "Noticed by an independent row: 1 of 2." in words
    record = json.loads((tmp_path / "mutants.json").read_text(encoding="utf-8"))
    lift, wake = record["mutants"]
    assert lift["noticed_by"] == {"independent": 1, "closed_form": 0, "given_back": 1}
    assert [row["quantity"] for row in lift["rows"]] == ["lift, independent", "lift, given back"]
    assert (lift["note"], wake["note"], wake["rows"]) == (None, "judgement", [])


def test_a_mutant_that_only_its_own_table_notices_needs_a_reason(monkeypatch, capsys):
    monkeypatch.setattr(mutation, "find", lambda rows: [found("wake", "", "given back")])
    assert mutation.run([], None) == 1
    assert "no independent row and no reason: wake" in capsys.readouterr().err


def test_what_a_wrong_program_raises_is_noticed():
    row = Row("x", "", "x", 1.0, lambda: 1.0 / 0.0, absolute(1.0), "published")
    assert not mutation.holds(row)


def test_a_function_is_replaced_wherever_it_is_held_and_put_back():
    table = curves.naca0015(2e5)
    original = aerofoil.section_table
    with tampering.passed_on("sim.aero.sections.aerofoil", "section_table", lambda t: 2.0 * t):
        assert curves.section_table is aerofoil.section_table is not original
        np.testing.assert_array_equal(curves.naca0015(2e5), 2.0 * table)
    assert curves.section_table is aerofoil.section_table is original
    np.testing.assert_array_equal(curves.naca0015(2e5)[:, CN], table[:, CN])


def test_a_function_is_put_back_after_an_error():
    original = separated.centre_of_pressure
    with (
        pytest.raises(RuntimeError),
        tampering.passed_on("sim.aero.sections.separated", "centre_of_pressure", lambda x: x),
    ):
        raise RuntimeError
    assert aerofoil.centre_of_pressure is original


def test_tables_are_scaled_and_put_back():
    burst, depth = tables.vortex_burst(), tables.wake_model().depth_surface
    with tampering.table_changed("vortex_burst.csv", ("burst_alpha_deg",), lambda x: 2.0 * x):
        np.testing.assert_array_equal(
            tables.vortex_burst().burst_alpha_deg, 2.0 * burst.burst_alpha_deg
        )
        np.testing.assert_array_equal(tables.vortex_burst().sweep_deg, burst.sweep_deg)
        assert vortex.burst_alpha(60.0) == 28.0
    assert vortex.burst_alpha(60.0) == 14.0
    with tampering.table_changed("wake_model.toml", ("depth_surface",), lambda x: 0.5 * x):
        assert tables.wake_model().depth_surface == 0.5 * depth
    assert tables.wake_model().depth_surface == depth


def test_scaling_goes_into_lists_and_may_grow_along_them():
    assert tampering.scaled({"a": (1.0, 2.0), "b": "text", "c": 3}, 2.0) == {
        "a": (2.0, 4.0), "b": "text", "c": 3,
    }  # fmt: skip
    np.testing.assert_allclose(tampering.scaled(np.ones(3), 2.0, 4.0), [2.0, 3.0, 4.0])
    slopes = tables.section_model().separated_slope_per_rad
    assert tampering.scaled(slopes, 2.0).sharp == 2.0 * slopes.sharp


def test_what_cannot_be_changed_is_said():
    lost = tampering.table_changed("wake_model.toml", ("no_such_key",), float)
    with pytest.raises(KeyError, match="no_such_key"), lost:
        pass
    nowhere = tampering.replaced(lambda: None, float)
    with pytest.raises(LookupError, match="no module holds"), nowhere:
        pass
