"""A small study of the display jet, flown once for the tests of ladder and card."""

import atexit
import os
import pickle
import shutil
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from fcntl import LOCK_EX, flock
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple, TypeVar

import numpy as np
import pytest

from sim import tables
from sim.core.layout import Model
from sim.describe import Aeroplane, SetUp, StudyFiles, load_study_files
from sim.describe.reading.finding import find
from sim.landing.forward import ForwardLimit
from sim.landing.landing import set_up_forward
from sim.pack import assemble as assembling
from sim.pack import stalling
from sim.pack.assemble import Assembled
from sim.pack.spreads import default_spreads
from sim.pack.stalling import Stall, stall_speed
from sim.study import StudyResult, forward, run_study
from sim.study.combinations import combination_key, combination_words, gyro_words, own_setup
from sim.study.ladder import predictions
from sim.study.ladder.ladder import Ladder, fly_ladder
from sim.study.ladder.predictions import Predictor
from sim.study.results.aft_limit import AftLimit, AftStep
from sim.study.results.set_up import SetUpResult
from tests.samples.brief import briefly
from tests.samples.sharing import SHARED

STUDY = """
schema = "aftlimit.study/1"
name = "carded"
title = "A study to make cards of"
story = "Two balance points."
aeroplane = "display_jet"
draws = 128
seed = 11
agility = []

[[setups]]
name = "middle"
title = "a $10 canister <&> more"
pack = "6s_3300"
balance_aft_mm = 178.0
gyro = "on"
loose_weights = [{ name = "canister", mass_g = 40.0, aft_mm = 660.0 }]

[[setups]]
name = "aft"
pack = "6s_3300"
balance_aft_mm = 226.0

[[cases]]
manoeuvre = "incipient_spin"
recoveries = ["centre_sticks"]
entry_m = 200.0
floor_m = 55.0

[[cases]]
manoeuvre = "throttle_chop_stall"
recoveries = ["centre_sticks"]
"""
RECOVERY = "centre_sticks"
KNOWN = 0.28
# of flight.toml: median and 95 % heights of the sample move by less than 1 cm, as many come back
ROUGH = {"rough_rps": 1e-3, "smooth_rps": 1e-3, "easy_share": 0.3}
Made = TypeVar("Made")


class Sample(NamedTuple):
    files: StudyFiles
    folder: Path
    result: StudyResult

    def setup(self, name: str) -> SetUpResult:
        return next(x for x in self.result.setups if x.name == name)

    def predictor(self) -> Predictor:
        return Predictor(self.files, self.folder / "flights", workers=2)

    def ladder(self, name: str) -> Ladder:
        return _ladder(name)


def known_well() -> str:
    """Return the table of a jet that was measured: every spread at a share of the usual one.

    So that at the balance points here nearly all come back, or none.
    """
    lines = [f"{x.name} = {KNOWN * x.sd:.6g}" for x in default_spreads()]
    return "\n".join(["[uncertainty]", *lines, ""])


@lru_cache(maxsize=1)
def sample() -> Sample:
    """Return the study, read and flown, with a folder that keeps its flights."""
    folder = Path(tempfile.mkdtemp(prefix="aftlimit_card_"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    path = folder / "carded.toml"
    path.write_text(STUDY, encoding="utf-8")
    jet = find("display_jet", "aeroplanes").read_text(encoding="utf-8")
    assert "balance_aft_mm = 178.0" in jet
    jet = jet.replace("balance_aft_mm = 178.0", "balance_aft_mm = 172.0")
    (folder / "display_jet.toml").write_text(f"{jet}\n{known_well()}", encoding="utf-8")
    files = load_study_files(path)
    # flown by whoever comes first; its flights are found again by all that they are
    flown = Path(os.environ[SHARED]) / "carded"
    flown.mkdir(parents=True, exist_ok=True)
    (folder / "flights").symlink_to(flown)
    kept = flown.parent / "carded.pickle"
    with (flown.parent / "carded.lock").open("w") as lock:
        flock(lock, LOCK_EX)
        if not kept.exists():
            with briefly(), roughly():  # how a card is told does not hang on what it cuts short
                result = run_study(files, folder / "flights", workers=2)
            kept.write_bytes(pickle.dumps(result))
        return Sample(files, folder, pickle.loads(kept.read_bytes()))


@lru_cache
def _ladder(name: str) -> Ladder:
    made = sample()
    with each_stall_once():
        return fly_ladder(made.files, made.result, made.setup(name), RECOVERY, made.predictor())


@contextmanager
def roughly() -> Iterator[None]:
    """Fly in steps that may be rougher than flight.toml says."""
    table = tables.flight().model_copy(update=ROUGH)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(tables, "flight", lambda: table)
        yield


@contextmanager
def each_stall_once() -> Iterator[None]:
    """Find a draw's stall speed once in a test run, though many ladders climb over one set-up.

    And how a set-up's draws trim, and its forward limit. Stalls from three places of the stick, not
    nine: what a ladder does with them does not hang on that. Its flights are as rough as those of
    the study, or it would not find them again.
    """
    trims, sticks = Predictor._tails, stalling.STICKS
    few = np.linspace(-1.0, 1.0, 3)

    def stall(model: Model, area: float, mass: float) -> Stall:
        of = [*packed(model), np.array([area, mass]).tobytes()]
        return once("stall", of, lambda: stall_speed(model, area, mass))

    def tails(self: Predictor, ready: Assembled, speed_mps: float) -> np.ndarray:
        of = [*packed(ready.model), self.draws.physical.tobytes(), np.array([speed_mps]).tobytes()]
        return once("tails", of, lambda: trims(self, ready, speed_mps))

    def ahead(aeroplane: Aeroplane, setup: SetUp, draws: np.ndarray, share: float) -> ForwardLimit:
        of = [repr((aeroplane, setup, share, tables.landing())).encode(), draws.tobytes()]
        return once("forward", of, lambda: set_up_forward(aeroplane, setup, draws, share))

    with pytest.MonkeyPatch.context() as patch, roughly():
        patch.setattr(predictions, "stall_speed", stall)
        patch.setattr(Predictor, "_tails", tails)
        patch.setattr(forward, "set_up_forward", ahead)
        patch.setattr(stalling, "STICKS", few)
        if sticks.size != few.size:
            assembling._kept.cache_clear()
        yield
    if sticks.size != few.size:
        assembling._kept.cache_clear()


def packed(model: Model) -> list[bytes]:
    """Return all that a model holds, but for tables' ends: large, and of all draws the same."""
    return [part.tobytes() for part in model._replace(table_ends=model.tables)]


def once(what: str, of: Sequence[bytes], make: Callable[[], Made]) -> Made:
    """Return what is made of so many bytes, made by the first process of a test run to ask."""
    known = Path(os.environ[SHARED]) / f"{what}_{sha256(b''.join(of)).hexdigest()[:24]}"
    if not known.exists():
        part = known.with_suffix(f".{os.getpid()}")
        part.write_bytes(pickle.dumps(make()))
        part.replace(known)
    return pickle.loads(known.read_bytes())


def limit(
    study: Sample, name: str, aft_mm: float | None, at_end: bool = False, **more: object
) -> AftLimit:
    """Return an aft limit of a set-up's own pack and combination, found from 164 mm on."""
    setup = own_setup(study.files, name)
    steps = (
        ()
        if aft_mm is None
        else (
            AftStep(
                manoeuvre="chop",
                not_flown=(),
                balance_aft_mm=164.0,
                draws=128,
                back=128,
                flights=128,
                low=0.97,
                high=1.0,
                recovery=RECOVERY,
                complete=True,
            ),
            AftStep(
                manoeuvre="chop",
                not_flown=(),
                balance_aft_mm=aft_mm,
                draws=128,
                back=127,
                flights=128,
                low=0.957,
                high=0.998,
                recovery=RECOVERY,
                complete=True,
            ),
        )
    )
    first_failure = None if at_end or aft_mm is None else aft_mm + 2.0
    low, high = (None, None) if aft_mm is None else (aft_mm - 5.0, aft_mm + 6.0)
    found = AftLimit(
        pack=setup.pack,
        combination=combination_words(setup, study.files.aeroplane),
        key=combination_key(setup),
        like=name,
        setups=(name,),
        gyro=gyro_words(setup),
        manoeuvres=("throttle_chop_stall",),
        recovery=RECOVERY,
        aft_mm=aft_mm,
        pct_mac=20.0,
        low_mm=low,
        high_mm=high,
        neutral_mm=210.0,
        neutral_pct_mac=30.0,
        share_low=0.957,
        share_high=0.998,
        draws_used=128,
        flights_used=256,
        at_end=at_end,
        first_failure_mm=first_failure,
        each=(),
        steps=steps,
    )
    return replace(found, **more)
