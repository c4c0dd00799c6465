"""Fixtures that several folders share: a body without air, an assembled jet, its spins."""

import gc
import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import settings
from threadpoolctl import threadpool_limits

from sim.core import error_layout as e
from sim.core import layout as k
from sim.core.draw_layout import N_TABLE_ENDS
from sim.core.flights.inertia import invert_inertia
from sim.core.layout import Model
from sim.core.loads.lookup import N_COLUMNS, N_S
from sim.core.loads.thrust import N_PACK, N_PROP_COLS, N_UNIT_COLS, U_ROTATION
from sim.core.motion.integrate import Inputs, Work, rk4_step, scratch
from sim.core.pilot.control import command_angle
from sim.core.steady.linear import trimmed_state
from sim.describe import SetUpBlock, load_aeroplane
from sim.fly import warming
from sim.pack.assemble import Assembled, assemble
from tests.samples.brief import briefly
from tests.samples.sharing import SHARED

# compilation makes a first example slow, and every run must try the same examples
settings.register_profile("house", deadline=None, derandomize=True, database=None)
settings.load_profile("house")

TICK = 0.01  # s, one control tick at 100 Hz
# objects made between two looks for garbage, of which modules and figures leave little: with
# Python's own 700 a tenth of the time of what draws and imports is spent looking
GARBAGE = 50_000, 20, 50
FIRST = "tests/validation/test_report.py"
# what compiles the kernels that are not of flights
OTHERS = """
import sim
from sim.cli import main
main(["trim", "club_sport", "--spin"])
sim.forced_oscillation("club_sport", axis="pitch", alpha_deg=2.0, frequency_hz=5.0)
"""


def pytest_configure(config: pytest.Config) -> None:
    """Give all processes of a run one folder, so that a study flown by one is there for all.

    And one thread each for linear algebra: as many processes as cores are at work already.
    Garbage is looked for less often than Python does on its own.
    """
    threadpool_limits(limits=1, user_api="blas")
    gc.set_threshold(*GARBAGE)
    if not hasattr(config, "workerinput"):
        # in the order of their names: files of few tests may be long, and come last in xdist's own
        config.option.loadscopereorder = False
        os.environ[SHARED] = tempfile.mkdtemp(prefix="aftlimit_tests_")
        if config.getoption("numprocesses", None):
            _compile_once()


def _compile_once() -> None:
    """Compile the kernels before the processes start, or each of them would compile them all.

    Two side by side: flights take about as long as all the others.
    """
    flights = warming.start()
    if flights:
        others = [*warming.own_python(), "-c", OTHERS]
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        subprocess.run(others, env=warming.own_environment(), check=False, **quiet)
    warming.finish(flights)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with what waits for a process of its own, or one worker is left with it at the end."""
    items.sort(key=lambda item: not item.nodeid.startswith(FIRST))


def pytest_collection_finish() -> None:
    """Leave what was imported and collected out of every later look for garbage."""
    gc.collect()
    gc.freeze()


def pytest_unconfigure(config: pytest.Config) -> None:
    """Take the folder away again."""
    if not hasattr(config, "workerinput"):
        shutil.rmtree(os.environ.pop(SHARED), ignore_errors=True)


def mass_row(mass: float, inertia: np.ndarray) -> np.ndarray:
    """Return the mass array (N_MASS,) of a mass and an inertia tensor (3, 3)."""
    row = np.zeros(k.N_MASS)
    row[k.M_MASS] = mass
    row[k.M_INERTIA : k.M_INERTIA + 9] = np.asarray(inertia, dtype=float).ravel()
    invert_inertia(row)
    return row


def bare_model(mass: float, inertia: np.ndarray, **arrays: np.ndarray) -> Model:
    """Return a model that is nothing but a rigid body without air; ``arrays`` replace parts."""
    env = np.zeros(k.N_ENV)
    env[k.E_THRUST_FACTOR] = 1.0
    env[k.E_GUST_LENGTH] = 1.0
    env[k.E_STALL_SPEED] = 10.0
    env[k.E_STALL_ALPHA] = env[k.E_STALL_INVERTED] = 0.2
    model = Model(
        strips=np.zeros((k.N_STRIP_ROWS, 0)),
        strip_index=np.zeros((k.N_STRIP_INDEX, 0), dtype=np.int64),
        tables=np.zeros((1, N_S, N_COLUMNS)),
        table_ends=np.zeros((2 * N_TABLE_ENDS, 1, N_S, N_COLUMNS)),
        surfaces=np.zeros((0, k.N_SURFACE_COLS)),
        pairs=np.zeros((0, 2), dtype=np.int64),
        sources=np.zeros((0, k.N_SOURCE_COLS)),
        bodies=np.zeros((k.N_BODY_ROWS, 0)),
        body_par=np.zeros(k.N_BODY_PAR),
        units=np.zeros((0, N_UNIT_COLS)),
        prop_table=np.zeros((2, N_PROP_COLS)),
        pack=np.zeros(N_PACK),
        servos=np.zeros((0, k.N_SERVO_COLS)),
        gyro=np.zeros(k.N_GYRO),
        mass=mass_row(mass, inertia),
        env=env,
        pilot=np.zeros(k.N_PILOT),
        errors=np.zeros(e.Y_SERVO),
    )
    model = model._replace(**arrays)
    if "errors" in arrays:
        return model
    count = model.servos.shape[0]
    return model._replace(errors=np.zeros(e.Y_SERVO + e.N_SERVO_EFFECTS * count))


def ticks(
    x: np.ndarray, model: Model, inputs: Inputs, work: Work, seconds: float, step: float
) -> np.ndarray:
    """Return the states (n + 1, state_size) at every tick from ``x``, inputs held."""
    x = x.copy()
    out = [x.copy()]
    for _ in range(round(seconds / TICK)):
        for _ in range(round(TICK / step)):
            rk4_step(x, model, inputs, work, step)
        out.append(x.copy())
    return np.array(out)


class Spin(NamedTuple):
    """A jet with its sticks held full aft and full rudder at idle, from a trimmed start."""

    assembled: Assembled
    model: Model
    inputs: Inputs
    work: Work
    start: np.ndarray

    def fly(self, seconds: float, step: float = 0.005, x: np.ndarray | None = None) -> np.ndarray:
        """Return the states (n + 1, state_size) at every tick."""
        first = self.start if x is None else x
        return ticks(first, self.model, self.inputs, self.work, seconds, step)


def still_rotors(model: Model) -> Model:
    """Return the model with rotors that give the body no momentum and no torque."""
    units = model.units.copy()
    units[:, U_ROTATION] = 0.0
    return model._replace(units=units)


def held_spin(jet: Assembled, model: Model, rudder: float) -> Spin:
    """Return the jet at 1.2 times its stall speed, sticks about to go to the corners."""
    x, _, _ = trimmed_state(model, 1.2 * jet.stall.speed_mps)
    work, inputs = scratch(model)
    for i in range(model.servos.shape[0]):
        inputs.target[i] = command_angle(model.servos[i], 1.0, 0.0, rudder)
    return Spin(jet, model, inputs, work, x)


@pytest.fixture(scope="session")
def body() -> Callable[..., Model]:
    """Builder of a rigid body without air: ``body(mass, inertia, **arrays)``."""
    return bare_model


@pytest.fixture(scope="module")
def brief() -> Iterator[None]:
    """Fly little beside the cases, where what else a study flies is not looked at."""
    with briefly():
        yield


@pytest.fixture
def undrawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave a page's figures unwritten: most of its time, where a test reads sections alone."""
    monkeypatch.setattr("sim.show.report.page.page_svg", lambda *_: "<svg></svg>")


@pytest.fixture(scope="module")
def unarranged() -> Iterator[None]:
    """Draw a page's figures without laying them out: a third of their time, no word less."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sim.show.drawing.canvas.lay_out", lambda _: None)
        yield


@pytest.fixture(scope="session")
def advance() -> Callable[..., np.ndarray]:
    """States at every tick: ``advance(x, model, inputs, work, seconds, step)``."""
    return ticks


@pytest.fixture(scope="session")
def display_jet() -> Assembled:
    """The display jet in its first set-up."""
    return assemble(load_aeroplane("display_jet"))


@pytest.fixture(scope="session")
def jet_balanced_at() -> Callable[[float], Assembled]:
    """Builder of the display jet with a 4000 mAh pack and a balance point [mm aft]."""
    aeroplane = load_aeroplane("display_jet")
    made: dict[float, Assembled] = {}

    def at(aft_mm: float) -> Assembled:
        if aft_mm not in made:
            made[aft_mm] = assemble(aeroplane, SetUpBlock(pack="6s_4000", balance_aft_mm=aft_mm))
        return made[aft_mm]

    return at


@pytest.fixture(scope="session")
def spin_at(jet_balanced_at) -> Callable[[float], Spin]:
    """Builder of a held spin to the right at a balance point [mm aft]."""

    def at(aft_mm: float) -> Spin:
        jet = jet_balanced_at(aft_mm)
        return held_spin(jet, jet.model, 1.0)

    return at


@pytest.fixture(scope="session")
def mirrored_spins(jet_balanced_at) -> Callable[[float], tuple[Spin, Spin]]:
    """Builder of a right and a left spin of a jet with nothing lopsided in it."""

    def at(aft_mm: float) -> tuple[Spin, Spin]:
        jet = jet_balanced_at(aft_mm)
        model = still_rotors(jet.model)
        return held_spin(jet, model, 1.0), held_spin(jet, model, -1.0)

    return at
