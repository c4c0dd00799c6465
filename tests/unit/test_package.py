"""The wheel carries tables and scenarios, and works from an empty folder."""

import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest
from numba.core.caching import _CacheLocator

from sim.core import CACHE
from sim.version import __version__

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    command = [
        sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation",
        "--wheel-dir", str(folder), str(ROOT),
    ]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True)
    (path,) = folder.glob(f"aftlimit-{__version__}-*.whl")
    return path


def unpack(archive, folder):
    """Unpack an archive of our own making; Python 3.11.0 to 3.11.3 know no filter yet."""
    safe = {"filter": "data"} if hasattr(tarfile, "data_filter") else {}
    with tarfile.open(archive) as file:
        file.extractall(folder, **safe)


@pytest.mark.parametrize("version", ["3.11.2", "3.12"])
def test_archives_are_unpacked_by_every_python_promised(version, tmp_path, monkeypatch):
    """Debian 12 has 3.11.2, where `extractall` takes no filter (it came with 3.11.4)."""
    if version == "3.11.2":
        plain = tarfile.TarFile.extractall

        def old(self, path=".", members=None, *, numeric_owner=False):
            more = {"filter": "fully_trusted"} if had_filter else {}
            plain(self, path, members, numeric_owner=numeric_owner, **more)

        had_filter = hasattr(tarfile, "data_filter")
        monkeypatch.delattr(tarfile, "data_filter", raising=False)
        monkeypatch.setattr(tarfile.TarFile, "extractall", old)
    (tmp_path / "told.txt").write_text("as it was")
    with tarfile.open(tmp_path / "some.tar.gz", "w:gz") as file:
        file.add(tmp_path / "told.txt", "inside/told.txt")
    unpack(tmp_path / "some.tar.gz", tmp_path / "out")
    assert (tmp_path / "out" / "inside" / "told.txt").read_text() == "as it was"


def test_wheel_carries_tables_and_scenarios(wheel):
    names = set(zipfile.ZipFile(wheel).namelist())
    for folder in ("aero_tables", "scenarios"):
        for path in (ROOT / folder).rglob("*.*"):
            assert f"sim/_data/{path.relative_to(ROOT).as_posix()}" in names


def test_wheel_tells_type_checkers_that_it_is_typed(wheel):
    assert "sim/py.typed" in zipfile.ZipFile(wheel).namelist()


def test_wheel_carries_templates_styles_and_scripts(wheel):
    names = set(zipfile.ZipFile(wheel).namelist())
    wanted = [x for kind in ("html", "css", "js") for x in (ROOT / "sim").rglob(f"*.{kind}")]
    assert len(wanted) > 15
    assert {x.relative_to(ROOT).as_posix() for x in wanted} <= names


def lend_kernels(place, root):
    """Let sources unpacked at ``place`` find, under cache ``root``, the kernels compiled here.

    Kernels lie in folders named by where their source lies, and each is read only if its source's
    bytes are the same: what does not fit is compiled, so this saves time and hides nothing.
    """
    if CACHE is None:
        return
    (root / CACHE.name).mkdir(mode=0o700, parents=True)
    for own in {x.parent for x in (ROOT / "sim" / "core").rglob("*.py")}:
        there = place / own.relative_to(ROOT)
        here, lent = (_CacheLocator.get_suitable_cache_subpath(x / "_.py") for x in (own, there))
        if (CACHE / here).is_dir():
            shutil.copytree(CACHE / here, root / CACHE.name / lent)


def test_installed_wheel_works_in_an_empty_folder(wheel, tmp_path):
    place, empty, kernels = tmp_path / "place", tmp_path / "empty", tmp_path / "kernels"
    empty.mkdir()
    zipfile.ZipFile(wheel).extractall(place)
    lend_kernels(place, kernels)
    done = subprocess.run(
        [sys.executable, "-m", "sim.cli", "weigh", "display_jet"],
        cwd=empty,
        env={**os.environ, "PYTHONPATH": str(place), "AFTLIMIT_CACHE": str(kernels)},
        capture_output=True,
        text=True,
        check=True,
    )
    assert "pack" in done.stdout
    assert list(empty.iterdir()) == []


def test_wheel_made_from_the_source_archive_is_whole(tmp_path):
    command = [sys.executable, "-m", "hatchling", "build", "-t", "sdist", "-d", str(tmp_path)]
    subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
    (archive,) = tmp_path.glob("aftlimit-*.tar.gz")
    unpack(archive, tmp_path / "source")
    (source,) = (tmp_path / "source").iterdir()
    for folder in ("sim", "aero_tables", "scenarios", "tests"):
        assert (source / folder).is_dir()
    command = [
        sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation",
        "--wheel-dir", str(tmp_path), str(source),
    ]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True)
    (made,) = tmp_path.glob("aftlimit-*.whl")
    names = zipfile.ZipFile(made).namelist()
    assert "sim/_data/scenarios/studies/first_look.toml" in names
    assert "sim/_data/aero_tables/sources.bib" in names
