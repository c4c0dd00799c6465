"""The background compilation asks for exactly the types that flights use."""

import io
import re
import subprocess
import time
from pathlib import Path

import numba
import pytest

from sim.core.air.wind import air_motion
from sim.core.flights.batch import many_flights
from sim.core.flights.fork import new_fork
from sim.core.flights.perturb import perturbed
from sim.core.flights.row import record
from sim.core.flights.summary import summarise
from sim.core.pilot.control import gyro_angles, servo_targets
from sim.core.pilot.pilot import move_sticks
from sim.core.pilot.script import advance
from sim.fly import warming
from sim.fly.compiling import compile_apart, compile_flights, like_a_model
from sim.fly.warming import finish, is_cold
from sim.show.console.progress import COMPILING, Compiling, StudyProgress, _Line

APART = tuple(
    kernel.within
    for kernel in (
        summarise, advance, move_sticks, gyro_angles, servo_targets, air_motion, perturbed,
        new_fork, record,
    )
)  # fmt: skip
KERNELS = (warming.FLIGHTS, warming.LEVEL_TRIM, warming.MODES)


def test_types_are_those_of_a_real_model(display_jet):
    for name, real, like in zip(
        display_jet.model._fields, display_jet.model, like_a_model(), strict=True
    ):
        assert numba.typeof(like) == numba.typeof(real), name


def test_compiling_beforehand_leaves_nothing_to_compile(display_jet):
    compile_apart()
    apart = [len(kernel.signatures) for kernel in APART]
    compile_flights()
    assert [len(kernel.signatures) for kernel in APART] == apart  # the types that flights ask for
    known = len(many_flights.signatures)
    from sim.describe import load_manoeuvre, load_recovery
    from sim.fly.flying import fly_many
    from sim.study.flights.draws import make_draws

    draws = make_draws(display_jet.spreads, 8, 1)
    entry, out = load_manoeuvre("throttle_chop_stall"), load_recovery("centre_sticks")
    import numpy as np

    fly_many(display_jet, entry, out, draws.physical, np.arange(1), draws.sides[:1])
    assert len(many_flights.signatures) == known
    assert not is_cold()


def test_finishing_nothing_is_nothing():
    finish([])


class _Terminal(io.StringIO):
    def isatty(self):
        return True


@pytest.fixture
def cold(monkeypatch, tmp_path):
    """Make the cache folder an empty one, in a run that has said nothing yet."""
    monkeypatch.setattr(_Line, "said", False)
    monkeypatch.setattr(warming, "CACHE", tmp_path)


def of_kernel(kernel):
    return lambda: Compiling(kernel)


@pytest.mark.parametrize("made", [StudyProgress, *map(of_kernel, KERNELS)])
def test_compiling_is_told_in_one_plain_line_when_piped(made, cold, capsys):
    with made():
        pass
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == f"{COMPILING}\n"
    assert len(told.err) <= 101


def test_a_run_that_compiles_twice_says_so_once(cold, capsys):
    with Compiling(warming.LEVEL_TRIM):
        pass
    with StudyProgress() as progress:
        progress._plain._last -= 60.0
        progress._plain.tell(progress._now)
    told = capsys.readouterr().err.splitlines()
    assert told[0] == COMPILING
    assert [line.partition(": ")[2] for line in told[1:]] == ["compiling"]


@pytest.mark.parametrize("made", [StudyProgress, of_kernel(warming.FLIGHTS)])
def test_compiling_counts_its_seconds_on_a_terminal(made, cold, monkeypatch):
    screen = _Terminal()
    monkeypatch.setattr("sys.stderr", screen)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "100")
    with made():
        time.sleep(1.3)
    seen = re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", screen.getvalue())
    assert COMPILING in " ".join(seen.split())
    assert " 0 s" in seen
    assert " 1 s" in seen


def test_a_compiled_kernel_is_found_and_nothing_is_said(display_jet, capsys, tmp_path):
    """Numba's index of a function lies in the cache folder once it has been compiled."""
    from sim.cli import main

    assert main(["trim", "display_jet", "--json", str(tmp_path / "t.json")]) == 0
    capsys.readouterr()
    assert not is_cold(warming.MODES)
    assert not is_cold(warming.LEVEL_TRIM)
    with Compiling(warming.MODES), Compiling(warming.LEVEL_TRIM):
        pass
    assert capsys.readouterr().err == ""


def test_the_kernels_of_another_copy_do_not_make_this_one_warm(cold, tmp_path):
    own = Path(many_flights.stats.cache_path).name
    other = f"{own.partition('_')[0]}_{40 * '0'}"
    for folder, is_one in ((other, True), (own, False)):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "batch.many_flights-31.py311.nbi").write_bytes(b"")
        assert is_cold() == is_one


def test_the_second_process_compiles_this_copy_and_no_other_in_the_folder(tmp_path):
    # as the README's first command does: installed, and run in the folder of the sources
    other = tmp_path / "sim"
    other.mkdir()
    (other / "__init__.py").write_text("raise RuntimeError('another copy')\n", encoding="utf-8")
    told = subprocess.run(
        [*warming.own_python(), "-c", "import sim.fly.warming; print(sim.fly.warming.__file__)"],
        env=warming.own_environment(), cwd=tmp_path, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert Path(told.stdout.strip()) == Path(warming.__file__)


def test_damaged_files_of_kept_flights_are_told_when_the_line_is_taken_away(capsys, tmp_path):
    with StudyProgress() as progress:
        progress.watch.damaged(tmp_path / "b.npy")
    assert (
        "b.npy: was damaged or cut short; its flights are flown again\n" in capsys.readouterr().err
    )
    with StudyProgress() as progress:
        for name in "abc":
            progress.watch.damaged(tmp_path / name)
    assert ": 3 files were damaged or cut short; their flights" in capsys.readouterr().err
