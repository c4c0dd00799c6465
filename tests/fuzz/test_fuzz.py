"""A few hundred broken files: refused by file and key, or read soundly; never anything else."""

import os

import pytest

from tests.fuzz.kinds import KINDS
from tests.fuzz.running import failures

COUNT = int(os.environ.get("AFTLIMIT_FUZZ", "60"))  # of each kind


@pytest.mark.parametrize("kind", [kind.name for kind in KINDS])
def test_a_broken_file_is_refused_by_file_and_key_or_read_soundly(kind, tmp_path):
    assert list(failures(COUNT, 0, tmp_path, (kind,))) == []


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_the_sound_files_are_read(kind, tmp_path):
    for data in kind.sound():
        path = tmp_path / "mine"
        path = path.with_suffix({"section": ".csv", "batch": ".npy"}.get(kind.name, ".toml"))
        path.write_bytes(data)
        assert kind.opened(path) is not None
