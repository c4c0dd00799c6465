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
posix = pytest.mark.skipif(os.name != "posix", reason="folders have no owners and modes here")
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


def test_a_new_cache_is_this_users_alone(tmp_path, monkeypatch):
    monkeypatch.setenv("AFTLIMIT_CACHE", str(tmp_path / "new" / "root"))
    assert cache_folder().stat().st_mode & 0o777 == 0o700
    assert cache_folder() is not None  # and is taken again


@posix
def test_a_cache_that_others_may_write_to_is_not_used(tmp_path, monkeypatch):
    monkeypatch.setenv("AFTLIMIT_CACHE", str(tmp_path))
    folder = cache_folder()
    for mode in (0o777, 0o770, 0o702):
        folder.chmod(mode)
        assert cache_folder() is None
    folder.chmod(0o755)  # read by others, as one made earlier
    assert cache_folder() == folder
    assert folder.stat().st_mode & 0o777 == 0o700


@posix
def test_a_cache_that_others_may_replace_is_not_used(tmp_path, monkeypatch):
    monkeypatch.setenv("AFTLIMIT_CACHE", str(tmp_path))
    tmp_path.chmod(0o777)
    assert cache_folder() is None
    tmp_path.chmod(0o1777)  # like a shared folder for temporary files, where nobody else can
    assert cache_folder() is not None


@posix
def test_a_cache_of_another_user_or_a_link_is_not_used(tmp_path, monkeypatch):
    monkeypatch.setenv("AFTLIMIT_CACHE", str(tmp_path))
    folder = cache_folder()
    me = os.geteuid()
    monkeypatch.setattr(os, "geteuid", lambda: me + 1)
    assert cache_folder() is None
    monkeypatch.setattr(os, "geteuid", lambda: me)
    folder.rename(tmp_path / "elsewhere")
    folder.symlink_to(tmp_path / "elsewhere")
    assert cache_folder() is None


def test_where_no_cache_can_be_made_nothing_is_kept(tmp_path):
    # a file in its place; the shared folder for temporary files is none to fall back on
    (tmp_path / "file").write_text("", encoding="utf-8")
    env = os.environ | {"AFTLIMIT_CACHE": str(tmp_path / "file"), "TMPDIR": str(tmp_path)}
    code = (
        "import sim.core; from sim.core.motion.rotation import wrapped as f\n"
        "from sim.fly.warming import compiling_text\n"
        "print(sim.core.CACHE, type(f._cache).__name__, compiling_text())"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True
    )
    assert done.stdout.startswith("None NullCache compiling what this needs: one to three min")
    assert str(tmp_path / "file") in done.stdout
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


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
    for name in ("__init__.py", "compiler.py"):
        shutil.copy(CORE / name, core)
    (core / "caller.py").write_text(CALLER, encoding="utf-8")
    (core / "helper.py").write_text(HELPER.format(factor="3.0"), encoding="utf-8")
    first, written = run(tmp_path)
    assert (first, len(written)) == (7.0, 2)
    # unedited it is served from the cache, not made again
    assert run(tmp_path) == (7.0, written)
    (core / "helper.py").write_text(HELPER.format(factor="5.0"), encoding="utf-8")
    assert run(tmp_path)[0] == 11.0
