"""Tables are typed: what does not fit is refused when it is read, with the nearest name."""

import copy

import numpy as np
import pytest

from sim import tables
from sim.core.draw_layout import ERROR_NAMES
from sim.tables.models.columns import VortexBurst
from sim.tables.models.error_model import ErrorModel
from sim.tables.models.judge import Judge
from sim.tables.models.lipo_cell import LipoCell
from sim.tables.models.plate_model import PlateModel
from sim.tables.models.spin_search import SpinSearch
from sim.tables.models.strip_model import StripModel
from sim.tables.models.uncertainty import Uncertainty
from sim.tables.reading import TableFault, read_csv, read_toml, tables_folder
from sim.tables.typed import from_csv, modelled

# read by checks alone, which take their columns by the file's names
CHECKED = {
    "naca0012_cd_sand80-2114_0-16deg", "naca0012_cm_sand80-2114_0-20deg",
    "naca0021_cm_sand80-2114_0-40deg", "plate_free_streamline_rayleigh",
}  # fmt: skip


def functions():
    """Return the functions that return tables, by their names."""
    own = {name: f for name, f in vars(tables).items() if hasattr(f, "cache_clear")}
    return {name: f for name, f in own.items() if f.__module__ == tables.__name__}


def faults(name, model, **changed):
    """Return the lines that refuse a table of the folder with some keys changed."""
    raw = {**copy.deepcopy(read_toml(name).values), **changed}
    with pytest.raises(TableFault) as told:
        modelled(name, model, {key: value for key, value in raw.items() if value is not None})
    return str(told.value).splitlines()


def test_every_table_of_the_folder_has_its_function():
    stems = {path.stem for path in tables_folder().glob("*.[ct]*")} - CHECKED
    assert {name.split("_sand80")[0] for name in stems} == functions().keys()


@pytest.mark.parametrize("name", functions())
def test_a_table_is_read_once_and_cannot_be_changed(name):
    table = functions()[name]()
    assert functions()[name]() is table
    fields = getattr(type(table), "model_fields", None) or table._fields
    with pytest.raises((ValueError, AttributeError)):
        setattr(table, next(iter(fields)), 0.0)


def test_a_table_holds_what_its_file_says():
    raw = read_toml("judge.toml").values
    assert tables.judge().model_dump(exclude={"spin_modes"}) == {
        key: value for key, value in raw.items() if key != "spin_modes"
    }
    columns = read_csv("vortex_burst.csv").columns
    np.testing.assert_array_equal(tables.vortex_burst().sweep_deg, columns["sweep_deg"])


def test_a_misspelt_key_is_told_with_the_nearest_alone():
    assert faults("judge.toml", Judge, stopped_dps=None, stoped_dps=45.0) == [
        "judge.toml: stoped_dps: is no key of this table; did you mean 'stopped_dps'?"
    ]


def test_a_misspelt_key_of_a_table_in_a_table_is_told():
    modes = dict(read_toml("judge.toml").values["spin_modes"])
    modes["upper_alfa_deg"] = modes.pop("upper_alpha_deg")
    assert faults("judge.toml", Judge, spin_modes=modes) == [
        "judge.toml: spin_modes.upper_alfa_deg: is no key of this table; "
        "did you mean 'upper_alpha_deg'?"
    ]


def test_a_missing_key_is_told():
    assert faults("judge.toml", Judge, stopped_dps=None) == [
        "judge.toml: stopped_dps: is missing; give a number, at least 0 and at most 2000 "
        "degrees per second"
    ]


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("deep_stall_share", 1.5, "must be at least 0 and at most 1; got 1.5"),
        ("alpha_deg", -50.0, "must be at least 0 and at most 180 degrees; got -50.0"),
        ("alpha_deg", float("nan"), "must be at least 0 and at most 180 degrees; got nan"),
        ("alpha_deg", "50", "must be a number, at least 0 and at most 180 degrees (without"),
        ("alpha_deg", True, "must be a number, at least 0 and at most 180 degrees; got true"),
        ("alpha_deg", [50.0], "must be a number, at least 0 and at most 180 degrees; got a list"),
    ],
)
def test_a_value_of_a_wrong_kind_or_out_of_range_is_told(key, value, words):
    (line,) = faults("judge.toml", Judge, **{key: value})
    assert line.startswith(f"judge.toml: {key}: {words}")


def test_every_fault_of_a_table_is_told_at_once():
    assert len(faults("judge.toml", Judge, alpha_deg=-1.0, yaw_for_s="0.3", spin_turns=None)) == 3


def test_a_count_is_whole():
    (line,) = faults("spin_search.toml", SpinSearch, most_steps=150.5)
    assert line.startswith("spin_search.toml: most_steps: must be a whole number")


def test_two_ends_are_two_and_the_lesser_comes_first():
    for ends in ([3.5, 2.5], [2.5], [2.5, 3.0, 3.5]):
        (line,) = faults("strip_model.toml", StripModel, section_aspect_ratios=ends)
        assert "section_aspect_ratios: must be two numbers, the lesser first" in line


def test_two_shares_are_shares_and_the_lesser_comes_first():
    for ends, words in (
        ([0.95, 0.05], "peak_share_ends: must be two numbers, the lesser first"),
        ([0.05, 1.5], "must be at least 0 and at most 1; got 1.5"),
    ):
        (line,) = faults("plate_model.toml", PlateModel, peak_share_ends=ends)
        assert words in line


def test_a_curve_rises_and_its_lists_are_as_long():
    charges = [*read_toml("lipo_cell.toml").values["charge_pct"]]
    assert faults("lipo_cell.toml", LipoCell, charge_pct=charges[::-1]) == [
        "lipo_cell.toml: charge_pct: must rise from each number to the next"
    ]
    assert faults("lipo_cell.toml", LipoCell, charge_pct=charges[1:]) == [
        f"lipo_cell.toml: {key}: must be as long as charge_pct, 11 numbers; got 12 of them"
        for key in ("open_circuit_v", "open_circuit_sd_v")
    ]


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"angles_deg": [0.0, 8.0, 16.0, 14.0, 45.0, 75.0]}, "angles_deg: must rise"),
        ({"angles_deg": [2.0, 8.0, 16.0, 25.0, 45.0, 75.0]}, "angles_deg: must be 6 numbers"),
        ({"shapes": {"pitch_error": [1.0]}}, "shapes.pitch_error: must be 6 numbers; got 1"),
        ({"shapes": {"pich_error": [1.0]}}, "shapes.pich_error: is no error; did you mean"),
        (
            {"shapes": {name: [1.0] * 6 for name in ERROR_NAMES}},
            "shapes.normal_force_error: must begin with 0",
        ),
        ({"least": {"ruder_power_error": -0.4}}, "did you mean 'rudder_power_error'?"),
        ({"trimmed_out": ["trim_eror"]}, "did you mean 'trim_error'?"),
    ],
)
def test_an_error_model_that_does_not_hold_together_is_told(changed, words):
    assert any(words in line for line in faults("error_model.toml", ErrorModel, **changed))


@pytest.fixture
def entries():
    """Return the entries of the uncertainty table as they stand in the file."""
    return [dict(entry) for entry in read_toml("uncertainty.toml").values["entries"]]


def test_a_misspelt_entry_is_told_with_the_nearest(entries):
    entries[0]["name"] = "wing_forse"
    assert faults("uncertainty.toml", Uncertainty, entries=entries) == [
        "uncertainty.toml: entries: 'wing_forse' is not a draw; did you mean 'wing_force'?",
        "uncertainty.toml: entries: 'wing_force' is missing; add it "
        "(nearest there is 'wing_forse')",
    ]


def test_a_missing_entry_is_told(entries):
    (line,) = faults("uncertainty.toml", Uncertainty, entries=[entries[0], *entries[2:]])
    assert line.startswith("uncertainty.toml: entries: 'tail_force' is missing; add it")


def test_a_doubled_entry_is_told(entries):
    assert faults("uncertainty.toml", Uncertainty, entries=[*entries, entries[4]]) == [
        "uncertainty.toml: entries: 'post_stall_force' stands there 2 times; keep one"
    ]


def test_a_name_given_to_two_entries_is_told(entries):
    entries[1]["name"] = "wing_force"
    lines = faults("uncertainty.toml", Uncertainty, entries=entries)
    assert any(
        "'wing_force' stands there 2 times; name one of them 'tail_force'" in x for x in lines
    )
    assert any("'tail_force' is missing" in x for x in lines)


@pytest.mark.parametrize("sd", [-0.1, float("nan"), float("inf"), True, "0.1"])
def test_a_spread_must_be_a_number(entries, sd):
    entries[0]["sd"] = sd
    (line,) = faults("uncertainty.toml", Uncertainty, entries=entries)
    assert line.startswith("uncertainty.toml: entries.wing_force.sd: must be ")


def test_a_spread_must_have_its_keys(entries):
    del entries[0]["sd"]
    (line,) = faults("uncertainty.toml", Uncertainty, entries=entries)
    assert line.startswith("uncertainty.toml: entries.wing_force.sd: is missing")


BURST = """\
# what: a test
# columns: {columns}
# units: deg, deg
# source: [known2000]
# obtained: made up
# uncertainty: all of it
# licence: none
{columns}
60,{burst}
"""


@pytest.mark.parametrize(
    ("columns", "burst", "words"),
    [
        (
            "swep_deg, burst_alpha_deg", "14",
            "swep_deg: is no column of this table; did you mean 'sweep_deg'?",
        ),
        ("sweep_deg, none", "14", "burst_alpha_deg: is missing; give a column of that name"),
        ("sweep_deg, burst_alpha_deg", "late", "burst_alpha_deg: must hold a number in every row"),
    ],
)  # fmt: skip
def test_columns_are_held_to_their_names_and_kinds(tmp_path, columns, burst, words):
    tmp_path.joinpath("sources.bib").write_text("@misc{known2000,\n}\n")
    text = BURST.format(columns=columns, burst=burst).replace(f"\n{columns}\n60", "\n{}\n60")
    tmp_path.joinpath("t.csv").write_text(text.format(columns.replace(" ", "")))
    with pytest.raises(TableFault) as told:
        from_csv("t.csv", VortexBurst, tmp_path)
    assert any(line.startswith(f"t.csv: {words}") for line in str(told.value).splitlines())
