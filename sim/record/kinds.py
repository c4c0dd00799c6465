"""Every kind of record, and its JSON schema."""

from typing import Any

from sim.record.fields import Json, Kind, kind_name
from sim.record.models.card import CardRecord
from sim.record.models.fly import FlyRecord
from sim.record.models.gains import GainsRecord
from sim.record.models.landing import LandingRecord
from sim.record.models.one_out import OneOutRecord
from sim.record.models.power import PowerRecord
from sim.record.models.recording import Recording
from sim.record.models.results import StudyRecord
from sim.record.models.sketch import SketchRecord
from sim.record.models.spins import SpinMapRecord, SpinRecord
from sim.record.models.trace import TraceRecord
from sim.record.models.trim import TrimRecord
from sim.record.models.weigh import WeighRecord

DIALECT = "https://json-schema.org/draft/2020-12/schema"
ALL: tuple[type[Kind], ...] = (
    WeighRecord, SketchRecord, TrimRecord, SpinRecord, SpinMapRecord, GainsRecord, PowerRecord,
    FlyRecord, Recording, StudyRecord, CardRecord, OneOutRecord, LandingRecord,
    TraceRecord,
)  # fmt: skip
KINDS = {kind_name(kind): kind for kind in ALL}


def schema_of(kind: type[Kind]) -> Json:
    """Return the JSON schema of a kind of record.

    Beside the words of the standard, a number has its ``unit`` and, where it is rounded, the
    ``digits`` after its point; those of a list are of each number in it.
    """
    told = _untitled(kind.model_json_schema())
    return {"$schema": DIALECT, "$id": kind_name(kind), **told}


def _untitled(schema: Any) -> Any:
    """Return a schema without the titles that only repeat a key."""
    if isinstance(schema, list):
        return [_untitled(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    # a property may be called title: then it is a table, not text
    return {
        key: _untitled(value)
        for key, value in schema.items()
        if key != "title" or not isinstance(value, str)
    }
