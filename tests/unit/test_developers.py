"""What DEVELOPERS.md says of rooms and keys is so, and files name places that are there."""

import re
from pathlib import Path

import pytest
from pydantic_core import PydanticUndefined

from sim.describe.manoeuvre import Manoeuvre, Phase, Start, Until
from sim.describe.reading.wording import annotation_at, wanted

ROOT = Path(__file__).parent.parent.parent
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
WORDS = {True: "true", False: "false", None: "—"}


def rooms():
    """Return every folder of sim that holds files of its own."""
    found = {path.parent for path in (ROOT / "sim").rglob("*") if path.is_file()}
    return {f.relative_to(ROOT).as_posix() for f in found if "__pycache__" not in f.parts}


def row(model, name):
    """Return the first three cells of a key: its name, what is allowed, what holds without it."""
    field = model.model_fields[name]
    key = field.alias or name
    allowed = wanted(annotation_at(model, (key,))).replace("a number, at least", "at least")
    default = field.default
    without = "needed" if default is PydanticUndefined else WORDS.get(default, f"{default}")
    if isinstance(default, float):
        without = f"{default:g}"
    return f"| `{key}` | {allowed} | {without} |"


def test_every_room_is_named_once_and_none_that_is_not_there():
    named = re.findall(r"^\| `(sim[\w/]*)` \|", TEXT, flags=re.MULTILINE)
    assert sorted(named) == sorted(rooms())


@pytest.mark.parametrize("model", [Manoeuvre, Start, Phase, Until])
def test_the_manoeuvre_recipe_lists_every_key_as_it_is(model):
    for name in model.model_fields:
        assert row(model, name) in TEXT
    keys = {field.alias or name for m in (Manoeuvre, Start, Phase, Until)
            for name, field in m.model_fields.items()}  # fmt: skip
    section = TEXT[TEXT.index("**a manoeuvre or a recovery**") : TEXT.index("**a source**")]
    assert set(re.findall(r"^\| `(\w+)` \|", section, flags=re.MULTILINE)) == keys


def test_places_that_it_names_are_there():
    """Whatever looks like a file or a module of the repository is one."""
    tops = {path.name for path in (ROOT / "sim").iterdir() if path.is_dir()}
    for name in re.findall(r"`([\w./]+/[\w./]*)`", TEXT):
        inside = name.split("/")[0] in tops
        place = ROOT / "sim" / name if inside else ROOT / name
        module = place.with_name(place.name.split(".")[0] + ".py")
        assert place.exists() or module.is_file(), name


def written():
    """Return every file that may name another one in words."""
    files = [path for top in ("sim", "tests", "aero_tables") for path in (ROOT / top).rglob("*.*")]
    kinds = (".py", ".toml", ".csv", ".bib", ".html", ".js")
    return [f for f in files if f.suffix in kinds] + [ROOT / "README.md", ROOT / "DEVELOPERS.md"]


def is_there(dotted):
    """Tell whether "sim.aero.geometry.lattice.solve" is a room, a module, or a name in one."""
    place = ROOT
    for part in dotted.split("."):
        if (place / part).is_dir():
            place /= part
        elif (place / f"{part}.py").is_file():
            place = place / f"{part}.py"
        else:
            module = place if place.is_file() else place / "__init__.py"
            return re.search(rf"\b{part}\b", module.read_text(encoding="utf-8")) is not None
    return True


def test_modules_named_in_words_are_there():
    """In docstrings, comments and heads of tables; the test of the cache makes one of its own."""
    gone = {
        f"{path.relative_to(ROOT)}: {name}"
        for path in written()
        for name in re.findall(r"\bsim(?:\.[a-z]\w*){2,}", path.read_text(encoding="utf-8"))
        if path.name != "test_kernel_cache.py" and not is_there(name)
    }
    assert not gone
    for path in written():
        for name in re.findall(r"\bsim/[\w/]+\.py\b", path.read_text(encoding="utf-8")):
            assert (ROOT / name).is_file(), f"{path.name} names {name}"
