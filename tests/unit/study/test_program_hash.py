"""Stored flights are found again only while nothing that can change a flight has changed."""

import ast
import shutil
from functools import cache
from pathlib import Path

import numba
import numpy
import pytest
import scipy

import sim
from sim.study.flights import storing
from sim.study.flights.storing import flight_sources, program_hash, table_files
from sim.tables.reading import tables_folder

PACKAGE = Path(sim.__file__).parent


def uncached(*args):
    """Return the hash as found now."""
    return program_hash.__wrapped__(*args)


def file_of(module):
    """Return the file of a module of the package, None where it is a name in one."""
    place = PACKAGE.parent / module.replace(".", "/")
    for path in (place.with_suffix(".py"), place / "__init__.py"):
        if path.is_file():
            return path
    return None


@cache
def nodes(path):
    """Return every part of a source file's syntax."""
    return tuple(ast.walk(ast.parse(path.read_text(encoding="utf-8"))))


def imported(path):
    """Yield the files of the package that a file imports, those inside functions too."""
    for node in nodes(path):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [f"{node.module}.{name.name}" for name in node.names]
            # sim/__init__.py runs at every import and holds names alone: it counts where one of
            # them is taken, not where a module is
            if node.module != "sim" or not all(map(file_of, names)):
                names.append(node.module)
        elif isinstance(node, ast.Import):
            names = [name.name for name in node.names]
        yield from (file_of(n) for n in names if n.split(".")[0] == "sim")


@cache
def reached():
    """Return every file that the code that flies a batch and makes its draws imports."""
    seen, todo = set(), [PACKAGE / "study/flights/running.py", PACKAGE / "study/flights/draws.py"]
    while todo:
        path = todo.pop()
        if path is not None and path not in seen:
            seen.add(path)
            todo += imported(path)
    return seen


@pytest.fixture(scope="module")
def copies(tmp_path_factory):
    """Return copies of package and tables, to be changed one file at a time."""
    root = tmp_path_factory.mktemp("copy")
    leave = shutil.ignore_patterns("__pycache__", "_data", "viewer")
    shutil.copytree(PACKAGE, root / "sim", ignore=leave)
    shutil.copytree(tables_folder(), root / "aero_tables")
    return root / "sim", root / "aero_tables"


def test_everything_that_flies_is_hashed():
    assert reached() <= set(flight_sources())


def test_each_source_that_flies_moves_the_hash(copies, tmp_path):
    package, tables = copies
    assert uncached(package, tables) == uncached(PACKAGE, tables_folder())
    none = tmp_path  # no tables: they have a test of their own
    before = uncached(package, none)
    for path in reached():
        copy = package / path.relative_to(PACKAGE)
        kept = copy.read_bytes()
        copy.write_bytes(kept + b"\n")
        assert uncached(package, none) != before, path
        copy.write_bytes(kept)
    assert uncached(package, none) == before


def test_each_table_moves_the_hash(copies):
    package, tables = copies
    before = uncached(package, tables)
    files = table_files(tables)
    assert len(files) > 20
    for path in files:
        kept = path.read_bytes()
        path.write_bytes(kept + b"\n")
        assert uncached(package, tables) != before, path
        path.write_bytes(kept)


@pytest.mark.parametrize("place", ["aero/deep/er.py", "core/deep/er/still.py", "fly/deep/x.py"])
def test_a_nested_source_moves_the_hash(copies, place):
    package, tables = copies
    before = uncached(package, tables)
    (package / place).parent.mkdir(parents=True)
    (package / place).write_text("", encoding="utf-8")
    after = uncached(package, tables)
    assert after != before
    (package / place).write_text("x = 1\n", encoding="utf-8")
    assert uncached(package, tables) not in (before, after)


def test_a_nested_table_without_a_suffix_moves_the_hash(copies):
    package, tables = copies
    before = uncached(package, tables)
    (tables / "sections").mkdir()
    (tables / "sections" / "polar").write_text("1", encoding="utf-8")
    assert uncached(package, tables) != before


def test_what_only_prints_does_not(copies):
    package, tables = copies
    before = uncached(package, tables)
    with (package / "show" / "phrases.py").open("a", encoding="utf-8") as file:
        file.write("\n")
    assert uncached(package, tables) == before


@pytest.mark.parametrize("library", [numba, numpy, scipy], ids=lambda m: m.__name__)
def test_another_library_moves_the_hash(copies, monkeypatch, library):
    before = uncached(*copies)
    monkeypatch.setattr(library, "__version__", "0.0.1")
    assert uncached(*copies) != before


def test_moving_bytes_between_files_moves_the_hash(tmp_path):
    # names and contents must not run into each other
    hashes = []
    for one, other in (("xb.py", ""), ("x", "b.py")):
        (tmp_path / "a.py").write_text(one, encoding="utf-8")
        (tmp_path / "b.py").write_text(other, encoding="utf-8")
        hashes.append(storing.hashed(tmp_path, tmp_path.glob("*.py")))
    assert hashes[0] != hashes[1]


def test_kernels_live_in_core_alone():
    # the cache of compiled kernels is guarded by a hash over core
    found = [
        path
        for path in PACKAGE.rglob("*.py")
        if path.relative_to(PACKAGE).parts[0] != "core"
        and any(
            isinstance(node, ast.Name | ast.Attribute)
            and (node.id if isinstance(node, ast.Name) else node.attr)
            in ("kernel", "njit", "jit", "vectorize", "guvectorize")
            for function in nodes(path)
            if isinstance(function, ast.FunctionDef)
            for node in (n for d in function.decorator_list for n in ast.walk(d))
        )
    ]
    assert not found
