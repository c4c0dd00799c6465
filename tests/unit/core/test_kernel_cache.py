"""The compiled cache never serves a stale kernel."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import sim.core
from sim.core import cache_folder, source_hash

CORE = Path(sim.core.__file__).parent
SOURCES = sorted(path.relative_to(CORE).as_posix() for path in CORE.rglob("*.py"))

HELPER = '''"""Helper."""
from sim.core import kernel


@kernel
def helper(x):
    return {factor} * x
'''
CALLER = '''"""Caller."""
from sim.core import kernel
from sim.core.helper import helper


@kernel
def caller(x):
    return helper(x) + 1.0
'''


@pytest.mark.parametrize("name", SOURCES)
def test_any_edited_file_changes_the_hash(tmp_path, name):
    copy = tmp_path / "core"
    shutil.copytree(CORE, copy, ignore=shutil.ignore_patterns("__pycache__"))
    assert source_hash(copy) == source_hash(CORE)
    with (copy / name).open("a", encoding="utf-8") as file:
        file.write("\n")
    assert source_hash(copy) != source_hash(CORE)


def test_a_new_or_renamed_file_changes_the_hash(tmp_path):
    (tmp_path / "a.py").write_text("x = 1\n", encoding="utf-8")
    first = source_hash(tmp_path)
    (tmp_path / "a.py").rename(tmp_path / "b.py")
    second = source_hash(tmp_path)
    (tmp_path / "c.py").write_text("", encoding="utf-8")
    assert len({first, second, source_hash(tmp_path)}) == 3


def test_a_file_in_a_folder_changes_the_hash(tmp_path):
    (tmp_path / "a.py").write_text("x = 1\n", encoding="utf-8")
    deep = tmp_path / "deep" / "er"
    deep.mkdir(parents=True)
    first = source_hash(tmp_path)
    (deep / "a.py").write_text("x = 1\n", encoding="utf-8")
    second = source_hash(tmp_path)
    (deep / "a.py").write_text("x = 2\n", encoding="utf-8")
    third = source_hash(tmp_path)
    (deep / "a.py").rename(tmp_path / "deep" / "a.py")
    assert len({first, second, third, source_hash(tmp_path)}) == 4


def test_the_folder_carries_the_hash(tmp_path, monkeypatch):
    monkeypatch.setenv("AFTLIMIT_CACHE", str(tmp_path / "here"))
    folder = cache_folder()
    assert folder.is_dir()
    assert folder.parent == tmp_path / "here"
    assert folder.name.endswith(source_hash())


def run(root):
    """Return what caller(2.0) gives in a fresh interpreter, and when caches were written."""
    env = os.environ | {"PYTHONPATH": str(root), "AFTLIMIT_CACHE": str(root / "cache")}
    done = subprocess.run(
        [sys.executable, "-c", "from sim.core.caller import caller; print(caller(2.0))"],
        env=env, cwd=root, capture_output=True, text=True, check=True,
    )  # fmt: skip
    files = (root / "cache").rglob("*.nbc")
    return float(done.stdout), {path: path.stat().st_mtime_ns for path in files}


def test_an_edited_helper_recompiles_its_caller(tmp_path):
    # numba looks only at the file of the caller, which does not change here
    core = tmp_path / "sim" / "core"
    core.mkdir(parents=True)
    (tmp_path / "sim" / "__init__.py").write_text("", encoding="utf-8")
    shutil.copy(CORE / "__init__.py", core)
    (core / "caller.py").write_text(CALLER, encoding="utf-8")
    (core / "helper.py").write_text(HELPER.format(factor="3.0"), encoding="utf-8")
    first, written = run(tmp_path)
    assert (first, len(written)) == (7.0, 2)
    # unedited it is served from the cache, not made again
    assert run(tmp_path) == (7.0, written)
    (core / "helper.py").write_text(HELPER.format(factor="5.0"), encoding="utf-8")
    assert run(tmp_path)[0] == 11.0
