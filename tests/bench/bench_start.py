"""How long a command takes to start: help, with a warm cache, and compiling everything."""

import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

# 3: a set-up does not meet the requirement, as the benchmark's does not
COMMAND = "import sys; from sim.cli import main; sys.exit(main(sys.argv[1:]) not in (0, 3))"
STUDY = """schema = "aftlimit.study/1"
name = "start"
title = "As little as a study can be"
story = "Times the start."
aeroplane = "display_jet"
draws = 8
seed = 1

[[setups]]
name = "middle"
title = "as flown"
pack = "6s_5000"
balance_aft_mm = 195.0

[[cases]]
manoeuvre = "incipient_spin"
recoveries = ["centre_sticks"]
"""
# the same as far as the kernels: what a study compiles or reads before its first flight
LOAD = """
from sim.describe import load_aeroplane, resolve_setup
from sim.pack.assemble import assemble
jet = load_aeroplane("display_jet")
assemble(jet, resolve_setup(jet, None))
"""


def timed(folder: Path, code: str, *arguments: str) -> float:
    """Return the seconds a fresh Python takes over ``code``, kernel cache in ``folder``."""
    start = time.perf_counter()
    subprocess.run(
        [sys.executable, "-c", code, *arguments],
        check=True,
        stdout=subprocess.DEVNULL,
        env=os.environ | {"AFTLIMIT_CACHE": str(folder)},
    )
    return time.perf_counter() - start


def flown(results: Path) -> list[bytes]:
    """Return all that was flown into a folder of results, in the order of its names."""
    return [path.read_bytes() for path in sorted(results.rglob("*.npy"))]


def start_lines() -> Iterator[str]:
    """Yield how long commands take to start; the cold one compiles every kernel it needs."""
    with tempfile.TemporaryDirectory() as room:
        cache, study = Path(room) / "cache", Path(room) / "start.toml"
        study.write_text(STUDY, encoding="utf-8")
        command = ("study", str(study), "--out", f"{room}/out", "--workers", "1")
        shortest = min(timed(cache, COMMAND, "--help") for _ in range(3))
        yield f"aftlimit --help: {shortest:.2f} s"
        cold = timed(cache, COMMAND, *command)
        yield f"small study, nothing compiled: {cold:.1f} s"
        first = flown(Path(room) / "out")
        warm = min(timed(cache, COMMAND, *command) for _ in range(2))
        yield f"the same again: {warm:.1f} s, so {cold - warm:.1f} s of compiling"
        shutil.rmtree(f"{room}/out")
        timed(cache, COMMAND, *command)
        same = "the same to the byte" if flown(Path(room) / "out") == first else "NOT THE SAME"
        yield f"flights by what was just compiled and by what was kept: {same}"
        ready = min(timed(cache, LOAD) for _ in range(3))
        yield f"aeroplane assembled from a cached start: {ready:.2f} s"
