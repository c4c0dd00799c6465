"""Every module is imported by name by a test, and `tests/unit` has a folder a room."""

import re
from importlib import import_module
from pathlib import Path

import pytest

TESTS = Path(__file__).parent.parent
SIM = TESTS.parent / "sim"

# kernels that only kernels call, so a test can only see them through what calls them
INSIDE = {
    "sim.core.flights.flight", "sim.core.loads.separation", "sim.core.loads.strips",
    "sim.core.loads.wake", "sim.core.motion.march", "sim.core.steady.settle",
}  # fmt: skip


def modules():
    """Return the names of all modules that hold more than a room's own words."""
    paths = [path for path in SIM.rglob("*.py") if path.name != "__init__.py"]
    return {".".join(path.relative_to(SIM.parent).with_suffix("").parts) for path in paths}


def imported(text):
    """Return the modules that a test's text imports, by statement or by name at run time."""
    found = set(re.findall(r"^\s*from (sim[\w.]*) import", text, flags=re.MULTILINE))
    found |= set(re.findall(r"import_module\(\s*\"(sim[\w.]*)\"", text))
    several = r"^\s*from (sim[\w.]*) import (?:\(([^)]*)\)|(.+))$"
    for room, block, line in re.findall(several, text, flags=re.MULTILINE):
        found |= {f"{room}.{name}" for name in re.findall(r"\w+", block or line)}
    return found


def test_every_module_is_imported_by_a_test():
    found = set().union(*(imported(path.read_text()) for path in TESTS.rglob("test_*.py")))
    assert sorted(modules() - found - INSIDE) == []


@pytest.mark.parametrize("name", sorted(INSIDE))
def test_what_is_excused_has_no_way_in(name):
    module = import_module(name)
    kernels = [
        value for key, value in vars(module).items()
        if hasattr(value, "py_func") and value.__module__ == name and not key.startswith("_")
    ]  # fmt: skip
    assert kernels
    for kernel in kernels:
        with pytest.raises(TypeError, match="no way in from Python"):
            kernel(*[None] * kernel.py_func.__code__.co_argcount)


def test_unit_tests_have_the_rooms_of_the_program():
    rooms = {path.name for path in SIM.iterdir() if (path / "__init__.py").is_file()}
    mirrored = {path.name for path in (TESTS / "unit").iterdir() if any(path.glob("test_*.py"))}
    assert mirrored == rooms
