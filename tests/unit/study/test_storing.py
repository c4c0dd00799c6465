"""Kept flights are found again whole or not at all, and nothing damaged counts as flown."""

import errno
import io
import os
import time
from pathlib import Path

import numpy as np
import pytest

from sim.study.flights import storing
from sim.study.flights.storing import FlightStore
from sim.written import STRAY_S, write_atomically

WHICH = np.arange(8)
ROWS = np.random.default_rng(1).normal(size=(8, 5))


def kept(folder):
    """Return the file of the one batch that is put into a folder."""
    FlightStore(folder, 5).put("key", WHICH, ROWS)
    (path,) = folder.iterdir()
    return path


def saved(rows):
    stream = io.BytesIO()
    np.save(stream, rows)
    return stream.getvalue()


def claims(data, shape):
    """Return a batch whose header claims another shape."""
    true = b"(8, 6), }" + b" " * 20
    assert data.count(true) == 1
    return data.replace(true, (shape + b", }").ljust(len(true)))


def under_its_own_name(path, data):
    """Put data where a batch of just these bytes would lie, as a forger would."""
    path.unlink()
    path = path.with_name(storing._batch_name("key", data))
    path.write_bytes(data)
    return path


def test_what_was_put_is_there_in_the_next_run(tmp_path):
    kept(tmp_path)
    told = []
    store = FlightStore(tmp_path, 5, told.append)
    assert store.missing(["key"], np.arange(10)).tolist() == [8, 9]
    assert store.get(["key"], WHICH).tobytes() == ROWS.tobytes()
    assert store.resumed == 8
    assert told == []


DAMAGES = {
    "empty": lambda data: b"",
    "cut short": lambda data: data[:-8],
    "cut inside its header": lambda data: data[:50],
    "one bit": lambda data: data[:-1] + bytes([data[-1] ^ 1]),
    "a draw of another": lambda data: data[:134] + b"\x09" + data[135:],
    "all NaN": lambda data: saved(np.full((8, 6), np.nan)),
    "claims 21 TiB": lambda data: claims(data, b"(481036337152, 6)"),
    "claims one more": lambda data: claims(data, b"(9, 6)"),
    "claims less than nothing": lambda data: claims(data, b"(-1, 6)"),
    "nested header": lambda data: claims(data, b"(" * 20),
    "not ours": lambda data: b"hello" * 100,
    "pickled": lambda data: data.replace(b"<f8", b"|O "),
}  # fmt: skip


# whoever can write a batch as this program does can write any numbers
UNSEEN = {"one bit", "a draw of another"}
CASES = [(how, False) for how in DAMAGES] + [(how, True) for how in DAMAGES.keys() - UNSEEN]


@pytest.mark.parametrize(("how", "forged"), sorted(CASES))
def test_a_damaged_batch_is_missing_and_told_and_taken_away(tmp_path, how, forged):
    path = kept(tmp_path)
    data = DAMAGES[how](path.read_bytes())
    if forged:
        path = under_its_own_name(path, data)
    path.write_bytes(data)
    told = []
    store = FlightStore(tmp_path, 5, told.append)
    assert store.missing(["key"], WHICH).size == 8
    assert told == [path]
    assert not path.exists()
    store.put("key", WHICH, ROWS)
    assert FlightStore(tmp_path, 5).missing(["key"], WHICH).size == 0


def test_a_folder_under_the_name_of_a_batch_is_told(tmp_path):
    (tmp_path / "key-0123456789ab.npy").mkdir()
    told = []
    assert FlightStore(tmp_path, 5, told.append).missing(["key"], WHICH).size == 8
    assert len(told) == 1


def test_a_header_that_claims_terabytes_takes_no_memory(tmp_path):
    path = kept(tmp_path)
    with path.open("r+b") as file:
        file.truncate(1 << 40)  # a hole: nothing on the disk
    told = []
    assert FlightStore(tmp_path, 5, told.append).missing(["key"], WHICH).size == 8
    assert told == [path]


def test_half_written_files_of_a_killed_run_are_removed_but_none_in_work(tmp_path):
    old, new, other = (tmp_path / x for x in (".key-1.npy.ab.part", ".key-2.npy.cd.part", ".part"))
    for path in (old, new, other):
        path.write_bytes(b"half")
    long_ago = time.time() - 2 * STRAY_S
    os.utime(old, (long_ago, long_ago))
    FlightStore(tmp_path, 5)
    assert not old.exists()
    assert new.exists()


def fails(code, after=0):
    """Return a stand-in for ``os.fsync`` that fails after so many calls, as a full disk does."""
    calls = []

    def sync(handle):
        calls.append(handle)
        if len(calls) > after:
            raise OSError(code, os.strerror(code))

    return sync


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EROFS, errno.EIO])
def test_a_full_disk_leaves_no_half_of_a_file_and_names_it(tmp_path, monkeypatch, code):
    path = tmp_path / "results.json"
    write_atomically(path, b"old")
    monkeypatch.setattr(os, "fsync", fails(code))
    with pytest.raises(OSError, match=r"results\.json") as caught:
        write_atomically(path, b"new")
    assert caught.value.errno == code
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_what_counts_as_written_is_on_the_disk_before_it_has_its_name(tmp_path, monkeypatch):
    seen = []
    monkeypatch.setattr(os, "fsync", lambda handle: seen.append((tmp_path / "a").exists()))
    write_atomically(tmp_path / "a", b"x")
    assert seen == [False, True]  # the file, then its folder


def test_two_at_once_in_one_folder_keep_each_others_flights(tmp_path):
    one, two = FlightStore(tmp_path, 5), FlightStore(tmp_path, 5)
    one.put("key", WHICH[:4], ROWS[:4])
    two.put("key", WHICH[:4], ROWS[:4])
    two.put("key", WHICH[4:], ROWS[4:])
    told = []
    third = FlightStore(tmp_path, 5, told.append)
    assert third.missing(["key"], WHICH).size == 0
    assert third.get(["key"], WHICH).tobytes() == ROWS.tobytes()
    assert told == []
    assert len(list(Path(tmp_path).glob("*.npy"))) == 2
