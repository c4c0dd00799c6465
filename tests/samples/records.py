"""Records that were written, read again and held against their schema."""

import importlib.util
import json
from functools import cache
from pathlib import Path

from sim.record.kinds import KINDS, schema_of


@cache
def reader_of(kind):
    """Return what holds records against a kind's JSON schema, which is itself held against its."""
    from jsonschema import Draft202012Validator

    schema = schema_of(KINDS[kind])
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


def faults_of(content):
    """Return where a record does not agree with the JSON schema of its kind, and why."""
    found = reader_of(content["schema"]).iter_errors(content)
    return [f"{x.json_path}: {x.message}" for x in found]


def valid(path: Path):
    """Return what a record's file holds, which its kind and its schema must allow.

    The schema is made from the kind; where nothing is installed to read it the kind must do.
    """
    content = json.loads(path.read_text(encoding="utf-8"))
    record = KINDS[content["schema"]].model_validate(content)
    assert record.content() == content
    if importlib.util.find_spec("jsonschema"):
        assert faults_of(content) == []
    return content
