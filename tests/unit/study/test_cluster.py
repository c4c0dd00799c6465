"""Flights on a cluster: the bytes of those flown here, whoever is lost on the way."""

import json
import re
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from sim.describe import load_manoeuvre, load_recovery
from sim.fly import warming
from sim.pack.spreads import default_spreads
from sim.study.cluster import opening, pool
from sim.study.cluster.opening import open_cluster
from sim.study.cluster.pool import Cluster
from sim.study.cluster.worker import fly_sent, own_identity, refusal
from sim.study.flights.draws import make_draws
from sim.study.flights.running import Leg, Runner
from sim.study.flights.storing import FlightStore

DRAWS = 16
PATIENT_S = 100.0  # for everything that is waited for; a worker may have to compile
ALL = 2 * DRAWS


class Started:
    """A scheduler and two workers with a thread each, as anyone starts them by hand."""

    def __init__(self, folder):
        told = folder / "scheduler.json"
        self.folder = folder
        self.scheduler = self.begun(
            "scheduler", "--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--no-show",
            "--scheduler-file", str(told),
        )  # fmt: skip
        until = time.monotonic() + PATIENT_S
        while not told.exists():
            assert time.monotonic() < until, "no scheduler has come"
            time.sleep(0.05)
        self.file = str(told)
        self.workers = [self.worker(), self.worker()]

    def begun(self, *words):
        quiet = subprocess.DEVNULL
        command = [*warming.own_python(), "-m", "dask", *words]
        return subprocess.Popen(
            command, env=warming.own_environment(), stdout=quiet, stderr=quiet, cwd=self.folder
        )

    def worker(self):
        return self.begun(
            "worker", "--scheduler-file", self.file, "--nthreads", "1", "--no-nanny",
            "--no-dashboard", "--local-directory", str(self.folder), "--death-timeout", "30",
        )  # fmt: skip

    @property
    def address(self):
        with open(self.file, encoding="utf-8") as file:
            return json.load(file)["address"]

    def end(self):
        for process in (*self.workers, self.scheduler):
            process.kill()
            process.wait(PATIENT_S)


@pytest.fixture(scope="module")
def started(tmp_path_factory):
    pytest.importorskip("distributed", reason='Dask is not installed: pip install ".[cluster]"')
    made = Started(tmp_path_factory.mktemp("cluster"))
    yield made
    made.end()


@pytest.fixture(autouse=True)
def no_wait_is_for_ever(monkeypatch):
    """Whatever is waited for of a cluster, it looks now and then."""
    look, until = Cluster.look, time.monotonic() + PATIENT_S

    def hurried(self):
        assert time.monotonic() < until, "nothing has come back"
        return look(self)

    monkeypatch.setattr(Cluster, "look", hurried)


@pytest.fixture(scope="module")
def legs(display_jet):
    manoeuvre = load_manoeuvre("throttle_chop_stall")
    recoveries = map(load_recovery, ("centre_sticks", "rudder_alone"))
    which = np.arange(DRAWS)
    return [Leg(display_jet, manoeuvre, recovery, 120.0, which) for recovery in recoveries]


def runner(folder, **more):
    return Runner(make_draws(default_spreads(), DRAWS, 5), 5, FlightStore(folder), 1, **more)


def kept(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.fixture(scope="module")
def here(legs, tmp_path_factory):
    """What flies here: each leg's summaries, and the files kept."""
    folder = tmp_path_factory.mktemp("here")
    return runner(folder).fly(legs), kept(folder)


def test_who_would_fly_other_bytes_is_refused_and_told(started, monkeypatch):
    other = own_identity()._replace(numba="0.1")
    told = []
    with monkeypatch.context() as patch:
        patch.setattr(pool, "own_identity", lambda: other)
        with (
            pytest.raises(ValueError, match="none of its workers may fly"),
            open_cluster(started.address, told=told.append),
        ):
            pass
    refused = [line for line in told if line.startswith("worker ")]
    own = own_identity().numba
    assert refused
    assert all(line.endswith(f" is not used: numba {own}, here 0.1") for line in refused)


def test_a_worker_killed_half_way_loses_nothing_and_nothing_is_counted_twice(
    started, legs, here, tmp_path
):
    ended = []

    def kill_one(count):
        ended.append(count)
        started.workers[0].kill()

    with open_cluster(started.address) as cluster:
        while cluster.count() < 2:
            cluster.look()
        there = runner(tmp_path, progress=kill_one, pool=cluster)
        found = there.fly(legs)
        assert cluster.count() == 1
    assert started.workers[0].wait(PATIENT_S) != 0
    assert [x.tobytes() for x in found] == [x.tobytes() for x in here[0]]
    assert there.flown == sum(ended) == ALL
    assert kept(tmp_path) == here[1]


def test_without_a_worker_it_waits_and_says_so_and_goes_on_here(
    started, legs, here, tmp_path, monkeypatch
):
    monkeypatch.setattr(pool, "PATIENCE_S", 0.0)

    def interrupt(text):
        told.append(text)
        raise KeyboardInterrupt

    told = []
    with open_cluster(started.address) as cluster:
        cluster._told = interrupt
        broken = runner(tmp_path, progress=lambda _: started.workers[1].kill(), pool=cluster)
        with pytest.raises(KeyboardInterrupt):
            broken.fly(legs)
    assert told[0].endswith("waiting for one (Ctrl-C keeps what has been flown)")
    assert 0 < broken.flown < ALL
    again = runner(tmp_path)
    found = again.fly(legs)
    assert [x.tobytes() for x in found] == [x.tobytes() for x in here[0]]
    assert (again.flown, again.store.resumed) == (ALL - broken.flown, broken.flown)


def test_a_lost_scheduler_is_told(started, legs, tmp_path, monkeypatch):
    monkeypatch.setattr(opening, "WORKER_S", 0.3)
    with pytest.raises(ValueError, match="it has no workers"), open_cluster(started.address):
        pass
    monkeypatch.setattr(opening, "_wait_for_workers", lambda _: None)
    with open_cluster(started.address) as cluster:
        started.scheduler.kill()
        with pytest.raises(ConnectionError, match="scheduler was lost; what has been flown is"):
            runner(tmp_path, pool=cluster).fly(legs)


def test_an_address_without_a_scheduler_is_one_line(started, monkeypatch):
    monkeypatch.setattr(opening, "ANSWER_S", 0.3)
    for address, text in (
        ("tcp://127.0.0.1:9", "no Dask scheduler answered there"),
        ("nonsense", 'must be "local" or an address'),
        ("", 'must be "local" or an address'),
    ):
        with pytest.raises(ValueError, match=text), open_cluster(address):
            pass


def test_a_worker_flies_only_for_its_own_kind():
    own = own_identity()
    assert refusal(own, own) is None
    other = own._replace(program="4567")
    assert refusal(own, other) == "another version of the program or its tables"
    assert refusal(own, other._replace(python="3.1")) == f"python 3.1, here {own.python}"
    assert fly_sent(other, b"not looked at") == "another version of the program or its tables"


def test_dask_is_imported_only_when_asked_for(monkeypatch):
    at_once = re.compile(r"^(from|import) (dask|distributed)", flags=re.MULTILINE)
    package = Path(warming.__file__).parents[1]
    assert [path for path in package.rglob("*.py") if at_once.search(path.read_text())] == []
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(ValueError, match=r"^--cluster: needs Dask"), open_cluster("local"):
        pass
