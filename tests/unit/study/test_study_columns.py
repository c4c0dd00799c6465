"""A study's results as tables of named columns: what stands in them is what was found."""

from dataclasses import replace
from math import inf, isnan

import numpy as np
import pytest

from sim.record.study import study_record
from sim.study.results.columns import CASE, FLIGHT, LIMIT, SETUP
from sim.study.results.set_up import Heights
from tests.samples.results import result

RESULT = result()


def test_a_row_is_a_set_up_and_case():
    columns = RESULT.to_columns()
    pairs = [(setup, case) for setup in RESULT.setups for case in setup.cases]
    assert {column.shape for column in columns.values()} == {(len(pairs),)}
    assert list(columns) == [*SETUP, *CASE]
    for i, (setup, case) in enumerate(pairs):
        assert columns["setup"][i] == setup.name
        assert columns["recovery"][i] == case.recovery
        assert columns["balance_aft_mm"][i] == setup.balance_aft_mm
        assert columns["back_share"][i] == case.shares.back / case.shares.flights
    counted = columns["held"] + columns["recovered"] + columns["lost"] + columns["unresolved"]
    np.testing.assert_array_equal(counted, columns["flights"])


def test_a_height_that_flights_never_came_back_for_is_infinite():
    setup = RESULT.setups[0]
    gone = replace(setup.cases[0], height_lost_m=Heights(12.0, None))
    columns = replace(RESULT, setups=(replace(setup, cases=(gone,)),)).to_columns()
    assert columns["height_lost_median_m"].tolist() == [12.0]
    assert columns["height_lost_p95_m"].tolist() == [inf]


def test_limits_have_a_row_each_and_nan_where_there_is_none():
    limits = RESULT.aft_limits
    columns = replace(RESULT, aft_limits=(*limits, replace(limits[0], aft_mm=None))).to_columns(
        "limits"
    )
    assert list(columns) == list(LIMIT)
    assert columns["pack"].tolist() == [*(x.pack for x in limits), limits[0].pack]
    assert columns["aft_mm"][0] == limits[0].aft_mm
    assert isnan(columns["aft_mm"][-1])


def test_names_are_those_of_the_json(display_jet):
    told = study_record(RESULT, [display_jet] * len(RESULT.setups)).content()
    for names, block in ((SETUP, told["setups"][0]), (LIMIT, told["aft_limits"][0])):
        flat = set(block) | {f"trim_{key}" for key in block.get("trim", {})}
        flat |= set(block.get("trim", {})) | {"setup"}
        assert set(names) <= flat
    of_case = told["setups"][0]["cases"][0]
    known = {*of_case, *(f"spin_{key}" for key in of_case["spin"] or {}), "back_share"}
    for name in CASE:
        stem = name.replace("_median", "").replace("_p95", "")
        assert stem in known or name.startswith("spin_"), name


def test_flights_have_a_row_each():
    columns = RESULT.to_columns("flights")
    assert tuple(columns) == FLIGHT
    flown = sum(len(case.rows) for setup in RESULT.setups for case in setup.cases)
    assert {column.shape for column in columns.values()} == {(flown,)}
    back = np.isin(columns["verdict"], ("held", "recovered"))
    assert np.isfinite(columns["height_lost_m"][back]).all()


@pytest.mark.parametrize("table", ["cases", "limits", "flights"])
def test_a_study_without_any_has_empty_columns(table):
    columns = replace(RESULT, setups=(), aft_limits=()).to_columns(table)
    assert columns
    assert {column.size for column in columns.values()} == {0}


def test_a_table_that_is_none_is_told():
    with pytest.raises(ValueError, match="did you mean 'limits'"):
        RESULT.to_columns("limit")
