"""From what pydantic reports to the lines a user reads: key path, what, value, remedy."""

import types
from collections.abc import Iterator, Mapping, Sequence
from enum import Enum
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel, BeforeValidator, ValidationError
from pydantic_core import ErrorDetails

from sim.describe.faults import KIND, Fault, nearest
from sim.describe.quantity import Between, Wanted
from sim.units.factors import Unit, alike, split

LABELS = ("name", "channel", "of", "manoeuvre")
LISTS = (tuple, list, Sequence)
Location = tuple[int | str, ...]


def faults_from(error: ValidationError, model: type[BaseModel], raw: object) -> Iterator[Fault]:
    """Yield one fault for each thing a validation error reports.

    Parameters
    ----------
    error : ValidationError
        Raised when ``raw`` was read as ``model``.
    model : type of BaseModel
        The model it was read as.
    raw : mapping
        The parsed file, for names of list items.
    """
    for detail in error.errors(include_url=False):
        path = key_path(detail["loc"], raw)
        if detail["type"] == "missing" and isinstance(detail["loc"][-1], int):
            yield _too_few(detail, model, raw)
            continue
        if detail["type"] == KIND:
            for below, text in detail["ctx"]["faults"]:
                yield Fault(".".join(p for p in (path, below) if p), text)
        elif not _misspelt(detail, model, raw) and not _only_looks_short(detail):
            yield Fault(path, _sentence(detail, model))


def _too_few(detail: ErrorDetails, model: type[BaseModel], raw: Any) -> Fault:
    """Return the fault of a list of a fixed length that has too few items."""
    whole, got = detail["loc"][:-1], raw
    for step in whole:
        got = _step(got, step)
    text = f"must be {wanted(annotation_at(model, whole))}; got {len(got)} of them"
    return Fault(key_path(whole, raw), text)


def key_path(location: Location, raw: object) -> str:
    """Return a location as a key path; list items go by their name where they have one."""
    said = ""
    for step in location:
        if step == "[key]":
            break
        following = _step(raw, step)
        if isinstance(step, int):
            label = _label(following)
            said += f".{label}" if label else f"[{step + 1}]"
        else:
            said += f".{step}" if said else str(step)
        raw = following
    return said


def _step(raw: object, step: int | str) -> object:
    if isinstance(raw, Mapping):
        return raw.get(step)
    if isinstance(raw, list | tuple) and isinstance(step, int) and step < len(raw):
        return raw[step]
    return None


def _label(item: object) -> str:
    if isinstance(item, Mapping):
        for key in LABELS:
            if isinstance(item.get(key), str):
                return str(item[key])
    return ""


def annotation_at(model: Any, location: Location) -> Any:
    """Return the annotation of the value at a location, or None if there is none."""
    now: Any = model
    for step in location:
        now = bared(now)
        if isinstance(now, type) and issubclass(now, BaseModel):
            keys = {field.alias or name: name for name, field in now.model_fields.items()}
            field = now.model_fields.get(keys.get(str(step), ""))
            # the field's own metadata holds what Annotated carried
            now = Annotated[(field.annotation, *field.metadata, None)] if field else None
        elif get_origin(now) in LISTS:
            now = get_args(now)[0]
        elif get_origin(now) is dict:
            now = get_args(now)[1]
        else:
            return None
    return now


def bared(annotation: Any) -> Any:
    """Return an annotation without its marks and without None."""
    while True:
        origin = get_origin(annotation)
        if origin is Annotated:
            annotation = get_args(annotation)[0]
        elif origin in (Union, types.UnionType):
            annotation = next(a for a in get_args(annotation) if a is not type(None))
        else:
            return annotation


def range_of(annotation: Any) -> Between | None:
    """Return the range that an annotation brings; None without one."""
    origin = get_origin(annotation)
    if origin is Annotated:
        for mark in get_args(annotation)[1:]:
            holder = (
                getattr(mark.func, "__self__", None) if isinstance(mark, BeforeValidator) else None
            )
            if isinstance(holder, Between):
                return holder
        return range_of(get_args(annotation)[0])
    if origin in (Union, types.UnionType):
        return next((r for r in map(range_of, get_args(annotation)) if r), None)
    return None


def _told(annotation: Any) -> str:
    """Return the words that an annotation brings for itself; empty without any."""
    if get_origin(annotation) is Annotated:
        marks = get_args(annotation)[1:]
        own = next((mark.text for mark in marks if isinstance(mark, Wanted)), "")
        return own or _told(get_args(annotation)[0])
    if get_origin(annotation) in (Union, types.UnionType):
        return next((text for text in map(_told, get_args(annotation)) if text), "")
    return ""


def wanted(annotation: Any) -> str:
    """Return what an annotation allows, in the words of a message that asks for it."""
    if told := _told(annotation):
        return told
    allowed = range_of(annotation)
    bare = bared(annotation)
    if allowed is not None:
        kind = "a whole number" if bare is int else "a number"
        return f"{kind}, {allowed}"
    if choices := _choices(bare):
        return " or ".join(repr(choice) for choice in choices)
    if get_origin(bare) in LISTS:
        return "a list, [ … ]"
    if get_origin(bare) is dict or (isinstance(bare, type) and issubclass(bare, BaseModel)):
        return "a table of keys"
    plain = {bool: "true or false", str: "text in quotes", int: "a whole number"}
    return plain.get(bare, "a number")


def _choices(bare: Any) -> tuple[object, ...]:
    """Return the values of a choice; none of anything else."""
    if get_origin(bare) is Literal:
        return get_args(bare)
    if isinstance(bare, type) and issubclass(bare, Enum):
        return tuple(choice.value for choice in bare)
    return ()


def _sentence(detail: ErrorDetails, model: type[BaseModel]) -> str:
    kind, location, got = detail["type"], detail["loc"], detail["input"]
    if kind == "too_long" and (told := _told(annotation_at(model, location))):
        return f"must be {told}; got {len(got)} of them"
    if kind == "missing":
        return f"is missing; give {wanted(annotation_at(model, location))}"
    if kind == "extra_forbidden":
        return _unknown_key(model, location)
    if kind in ("literal_error", "enum"):
        allowed = _choices(bared(annotation_at(model, location)))
        choices = [choice for choice in allowed if isinstance(choice, str)]
        close = nearest(got, choices) if isinstance(got, str) else None
        mend = f"; did you mean {close!r}?" if close and len(choices) > 1 else ""
        return f"must be {wanted(annotation_at(model, location))}; got {shown(got)}{mend}"
    if kind == "too_short":
        return "must not be empty; give at least one"
    if kind == "tuple_type" or not kind.endswith(("_type", "_parsing", "_from_float")):
        said = detail["msg"]
        if kind == "tuple_type":
            said = f"must be {_told(annotation_at(model, location)) or 'a list, [ … ]'}"
        if kind == "range" and isinstance(got, str):
            said += " (without quotes)"
        return f"{said}; got {shown(got)}"
    return f"must be {wanted(annotation_at(model, location))}; got {shown(got)}"


def _misspelt(detail: ErrorDetails, model: type[BaseModel], raw: object) -> bool:
    # one slip, one line: the unknown key's own fault names the missing one
    location = detail["loc"]
    holder = raw
    for step in location[:-1]:
        holder = _step(holder, step)
    if detail["type"] != "missing" or not isinstance(holder, Mapping):
        return False
    if model.model_config.get("extra") != "forbid":
        return False  # such a key is passed over, and has no fault of its own
    known = keys_of(model, location[:-1])
    spare = [key for key in holder if key not in known]
    return any(nearest(key, known) == location[-1] for key in spare)


def _only_looks_short(detail: ErrorDetails) -> bool:
    # pydantic counts the faultless items only
    return detail["type"] == "too_short" and bool(detail["input"])


def keys_of(model: type[BaseModel], location: Location) -> list[str]:
    """Return the keys that the table at a location may have; none if it is no model's."""
    holder = bared(annotation_at(model, location))
    if isinstance(holder, type) and issubclass(holder, BaseModel):
        return [field.alias or name for name, field in holder.model_fields.items()]
    return []


def known_unit(name: str, annotation: Any) -> Unit | None:
    """Return the unit of a key of a model; None if it has none, or its range says another.

    A load factor ends in ``_g`` too, but its range is no mass.
    """
    parts, allowed = split(name), range_of(annotation)
    if parts is None or (allowed is not None and allowed.unit not in ("", parts[1].symbol)):
        return None
    return parts[1]


def _unknown_key(model: type[BaseModel], location: Location) -> str:
    known = keys_of(model, location[:-1])
    written = str(location[-1])
    if split(written) is None and split(written[:-1]) is not None:
        written = written[:-1]  # mass_lbs is mass_lb
    measured = [k for k in known if known_unit(k, annotation_at(model, (*location[:-1], k)))]
    close = nearest(written, [*known, *alike(written, measured)])
    if close:
        return f"is no key of this table; did you mean {close!r}{_other_unit(written, close)}?"
    return f"is no key of this table; keys: {', '.join(known)}"


def _other_unit(written: str, meant: str) -> str:
    """Return, in brackets, that a key is in what no unit of the one written can be turned into."""
    parts, other = split(written), split(meant)
    if parts is None or (other is not None and other[1].kind == parts[1].kind):
        return ""
    if other is None and not meant.endswith("_deg"):
        return ""
    symbol = "degrees" if other is None else other[1].symbol
    return f" (in {symbol}, not in {parts[1].symbol}: another number)"


def shown(value: object) -> str:
    """Return a value as the file has it, shortened: text in quotes, true and false plain."""
    if isinstance(value, bool):
        return str(value).lower()
    if value is None:
        return "null"
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list" if value else "an empty list"
    said = repr(value)
    return said if len(said) <= 60 else said[:57] + "..."
