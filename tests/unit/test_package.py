"""The wheel carries tables and scenarios, and works from an empty folder."""

import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    command = [
        sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation",
        "--wheel-dir", str(folder), str(ROOT),
    ]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True)
    (path,) = folder.glob("aftlimit-*.whl")
    return path


def test_wheel_carries_tables_and_scenarios(wheel):
    names = set(zipfile.ZipFile(wheel).namelist())
    for folder in ("aero_tables", "scenarios"):
        for path in (ROOT / folder).rglob("*.*"):
            assert f"sim/_data/{path.relative_to(ROOT).as_posix()}" in names


def test_installed_wheel_works_in_an_empty_folder(wheel, tmp_path):
    place, empty = tmp_path / "place", tmp_path / "empty"
    empty.mkdir()
    zipfile.ZipFile(wheel).extractall(place)
    done = subprocess.run(
        [sys.executable, "-m", "sim.cli", "weigh", "display_jet"],
        cwd=empty,
        env={**os.environ, "PYTHONPATH": str(place)},
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
    with tarfile.open(archive) as file:
        file.extractall(tmp_path / "source", filter="data")
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
