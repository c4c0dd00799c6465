"""Each kind of record has a schema that says what its keys mean, and what is none is refused."""

import copy
import json
from math import inf, nan

import pytest

from sim.describe import FileFault, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.judge import events_of
from sim.record.__main__ import main
from sim.record.carried import carried_row
from sim.record.fields import Number, kind_name
from sim.record.files import checked, read_json, write_record
from sim.record.kinds import KINDS, schema_of
from sim.record.models.card import CardRecord
from sim.record.models.fly import fly_record
from sim.record.models.recording import Recording
from sim.record.models.results import StudyRecord
from sim.record.models.sketch import sketch_record
from sim.record.models.weigh import WeighRecord, weigh_record
from sim.record.study import study_record
from sim.show.replay.recording import recording
from sim.structure.flight_loads import flight_loads
from sim.trim.senses import senses
from sim.weigh.reach import pack_reach
from tests.samples.records import faults_of, valid
from tests.samples.results import result

NUMBERS = {"number", "integer"}


@pytest.fixture(scope="module")
def written(display_jet):
    """Return records made on the spot; the others are held to their schema where they are made."""
    flight = fly_one(display_jet, load_manoeuvre("spin_entry"), load_recovery("centre_sticks"))
    events = events_of(flight.history, flight.summary)
    study = result()
    return [
        weigh_record(
            display_jet.weighed,
            senses(display_jet),
            (),
            [pack_reach(display_jet.aeroplane, display_jet.setup, "6s_4000")],
        ),
        sketch_record(display_jet, 28.5),
        fly_record(flight, events, (200.0, 40.0), None, 1, carried_row(flight_loads(flight), 20.0)),
        recording(flight, "a spin", 200.0, 40.0, None),
        study_record(study, [display_jet] * len(study.setups)),
    ]


def test_what_is_written_is_read_again_as_it_was(written, tmp_path):
    for record in written:
        path = write_record(record, tmp_path / "record.json")
        assert valid(path) == record.content()
        assert type(record).model_validate(read_json(path)) == record


def test_a_wrong_record_does_not_agree_with_its_schema(written):
    pytest.importorskip("jsonschema")
    told = written[0].content()
    assert faults_of(told) == []
    for key, value in (("mass_g", "1.2"), ("mass_g", None), ("notes", "none"), ("mass", 1.0)):
        assert faults_of({**told, key: value}), key
    assert faults_of({key: value for key, value in told.items() if key != "mass_g"})
    wrong = copy.deepcopy(told)
    wrong["parts"][0]["aft_mm"] = True
    assert faults_of(wrong) == ["$.parts[0].aft_mm: True is not of type 'number'"]


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("mass_g", "1.2", "mass_g: must be a number; got '1.2'"),
        ("setup", 3, "setup: must be text in quotes; got 3"),
        ("notes", "none", "notes: must be a list, [ … ]; got 'none'"),
        ("inertia_kg_m2", [[1.0, True]], "inertia_kg_m2[1][2]: must be a number; got true"),
        ("mass", 1.0, "mass: is no key of this table; did you mean 'mass_g'?"),
        ("schema", "other/1", "schema: must be 'aftlimit.weigh/1'; got 'other/1'"),
    ],
)
def test_a_wrong_record_is_refused_by_file_key_and_what_is_allowed(
    written, key, value, words, tmp_path
):
    path = tmp_path / "w.json"
    with pytest.raises(FileFault) as fault:
        checked({**written[0].content(), key: value}, WeighRecord, path)
    assert str(fault.value) == f"{path}: {words}"


def numbers(schema, path=(), unit=False):
    """Yield every number of a schema with its path, and whether its unit is told."""
    if isinstance(schema, dict):
        unit = unit or "unit" in schema
        if schema.get("type") in NUMBERS:
            yield ".".join(path), unit
        for key, value in schema.items():
            yield from numbers(value, (*path, key), unit)
    elif isinstance(schema, list):
        for value in schema:
            yield from numbers(value, path, unit)


@pytest.mark.parametrize("name", KINDS)
def test_every_number_has_a_unit_and_every_key_says_what_it_is(name):
    schema = schema_of(KINDS[name])
    assert schema["properties"]["schema"]["const"] == name
    found = list(numbers(schema))
    assert len(found) > 1
    assert [path for path, unit in found if not unit] == []
    named = schema.get("$defs", {}).values()
    tables = [schema, *(table for table in named if "enum" not in table)]
    for table in tables:
        assert table["description"]
        assert table["additionalProperties"] is False
    bare = {
        key
        for table in tables
        for key, value in table["properties"].items()
        if "description" not in value and not ({"unit", "const"} & set(value))
    }
    assert bare == set()


def test_a_number_is_rounded_and_what_is_none_is_null_where_that_may_be():
    assert Number("m", 2).rounded(1.2345, nullable=False) == 1.23
    assert Number("g", significant=3).rounded(1.2345e-9, nullable=False) == 1.23e-9
    for odd in (nan, inf, -inf):
        assert Number("m", 2).rounded(odd, nullable=True) is None
        assert Number("m", 2).rounded(odd, nullable=False) is odd
    assert Number("s", 1, below=1e6).rounded(-1e6, nullable=True) is None
    assert Number("1").rounded(0.1 + 0.2, nullable=False) == 0.1 + 0.2


@pytest.mark.parametrize(
    ("kind", "name"), [(CardRecord, "aftlimit.card/1"), (StudyRecord, "aftlimit.results/1")]
)
def test_a_kind_is_found_by_the_schema_it_writes(kind, name):
    assert kind_name(kind) == name
    assert KINDS[name] is kind


def test_nan_is_no_number_of_a_file(tmp_path):
    path = tmp_path / "r.json"
    path.write_text('{"height_m": NaN}')
    with pytest.raises(ValueError, match="NaN is no number of JSON"):
        read_json(path)


def test_the_kinds_and_their_schemas_are_printed(capsys):
    assert main([]) == 0
    said = capsys.readouterr().out
    assert all(name in said for name in KINDS)
    for name, kind in KINDS.items():
        assert main([name]) == 0
        assert json.loads(capsys.readouterr().out) == schema_of(kind)
    assert main(["aftlimit.weight/1"]) == 2
    assert "did you mean 'aftlimit.weigh/1'" in capsys.readouterr().err


def test_a_flight_that_a_study_keeps_says_which_it_is(written):
    told = next(record for record in written if isinstance(record, Recording))
    assert "kept" not in told.content()
    assert told.model_copy(update={"kept": "worst"}).content()["kept"] == "worst"
