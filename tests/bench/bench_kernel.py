"""How fast the compiled flights are: against real time, SciPy, and a second thread."""

import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial

import numpy as np
from scipy.integrate import solve_ivp

from sim.core import kernel
from sim.core import script_layout as s
from sim.core.draw_layout import N_DRAW
from sim.core.motion.derivative import derivative
from sim.core.motion.integrate import rk4_step, scratch
from sim.core.pilot.control import command_angle
from sim.core.steady.linear import trimmed_state
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery, resolve_setup
from sim.fly.flying import Settings, fly_many, fly_one
from sim.pack.assemble import Assembled, assemble

AEROPLANE, BALANCE_MM = "display_jet", 195.0
ENTRY, RECOVERY = "spin_entry", "centre_sticks"
TICK = 0.01  # s
EVALUATIONS = 2000
SPIN_SECONDS = 2.0  # flown by SciPy
FLIGHTS = 64  # for one thread, and again for two


@kernel
def evaluations(n, x, model, inputs, work, out):
    """Evaluate the right-hand side ``n`` times."""
    for _ in range(n):
        derivative(x, model, inputs, work, 0.0, out)


@kernel
def held_steps(n, x, model, inputs, work, dt):
    """Advance ``x`` by ``n`` steps with the inputs held."""
    for _ in range(n):
        rk4_step(x, model, inputs, work, dt)


def least(job: Callable[[], object], times: int, clock: Callable[[], float]) -> float:
    """Return the shortest of several runs [s]; the others were disturbed."""
    best = np.inf
    for _ in range(times):
        start = clock()
        job()
        best = min(best, clock() - start)
    return float(best)


def bench_jet() -> Assembled:
    """Return the aeroplane that all figures are for."""
    jet = load_aeroplane(AEROPLANE)
    return assemble(jet, resolve_setup(jet, None).at_balance(BALANCE_MM))


def flight_lines(jet: Assembled) -> Iterator[str]:
    """Yield the speed of whole flights (trim, spin, recovery, summary) on one core."""
    entry, recovery = load_manoeuvre(ENTRY), load_recovery(RECOVERY)
    standard = Settings.standard()
    for step in (0.005, 0.010):
        chosen = replace(standard, step_s=step)
        seconds = fly_one(jet, entry, recovery, settings=chosen).summary[s.R_TIME]
        job = least(partial(fly_one, jet, entry, recovery, settings=chosen), 15, time.thread_time)
        yield f"flight, {1e3 * step:.0f} ms step: {seconds / job:.0f} x real time per core"


def evaluation_lines(jet: Assembled) -> Iterator[str]:
    """Yield the time of one evaluation in a spin, from within compiled code."""
    x = spinning(jet)
    work, inputs = scratch(jet.model)
    out = np.zeros_like(x)
    evaluations(1, x, jet.model, inputs, work, out)
    job = least(
        lambda: evaluations(EVALUATIONS, x, jet.model, inputs, work, out), 60, time.thread_time
    )
    each, strips = 1e9 * job / EVALUATIONS, jet.model.strips.shape[1]
    bodies = jet.model.bodies.shape[1]
    yield (
        f"evaluation: {each:.0f} ns, all of it over {strips} strips {each / strips:.1f} ns each"
        f" (with {bodies} body strips, wakes, power)"
    )


def spinning(jet: Assembled) -> np.ndarray:
    """Return the state two seconds after the sticks went to the corners."""
    work, inputs = scratch(jet.model)
    x, _, _ = trimmed_state(jet.model, 1.2 * jet.stall.speed_mps)
    hold_spin(jet, inputs)
    held_steps(400, x, jet.model, inputs, work, 0.005)
    return x


def hold_spin(jet: Assembled, inputs) -> None:
    """Put the servo targets to full aft stick and right rudder, throttle closed."""
    for i, servo in enumerate(jet.model.servos):
        inputs.target[i] = command_angle(servo, 1.0, 0.0, 1.0)


def scipy_lines(jet: Assembled) -> Iterator[str]:
    """Yield the kernel's lead over SciPy on the same compiled right-hand side.

    SciPy's RK45 (rtol 1e-6) begins anew at each 100 Hz control tick, as it must where the
    inputs jump, with the first step it took last. Its time holds the calls from Python
    into compiled code, which are given apart.
    """
    work, inputs = scratch(jet.model)
    hold_spin(jet, inputs)
    start, out = spinning(jet), np.zeros(0)
    out = np.zeros_like(start)
    calls = 0

    def rates(_: float, x: np.ndarray) -> np.ndarray:
        nonlocal calls
        calls += 1
        derivative(x, jet.model, inputs, work, 0.0, out)
        return out.copy()

    def by_scipy() -> np.ndarray:
        x = start
        for _ in range(round(SPIN_SECONDS / TICK)):
            x = solve_ivp(rates, (0.0, TICK), x, "RK45", rtol=1e-6, atol=1e-8).y[:, -1]
        return x

    def by_kernel() -> np.ndarray:
        x = start.copy()
        held_steps(round(SPIN_SECONDS / 0.005), x, jet.model, inputs, work, 0.005)
        return x

    apart = float(np.abs(by_scipy() - by_kernel()).max())
    calls = 0
    slow = least(by_scipy, 3, time.thread_time)
    quick = least(by_kernel, 30, time.thread_time)
    one = least(lambda: rates(0.0, start), 200, time.perf_counter)
    yield (
        f"SciPy RK45 with control ticks: {slow / quick:.0f} x the kernel's time"
        f" (calls from Python {min(1.0, one * calls / 3 / slow):.0%} of it;"
        f" states {apart:.1e} apart after {SPIN_SECONDS:g} s)"
    )


def thread_lines(jet: Assembled) -> Iterator[str]:
    """Yield what a second thread brings."""
    entry, recovery = load_manoeuvre(ENTRY), load_recovery(RECOVERY)
    draws, which, sides = np.zeros((1, N_DRAW)), np.zeros(FLIGHTS, np.int64), np.ones(FLIGHTS)

    def batch(_: int = 0) -> object:
        return fly_many(jet, entry, recovery, draws, which, sides)

    batch()
    with ThreadPoolExecutor(2) as pool:
        alone = least(batch, 4, time.perf_counter)
        both = least(lambda: list(pool.map(batch, range(2))), 4, time.perf_counter)
    yield f"two threads: {2.0 * alone / both:.2f} x the flights of one"


def kernel_lines() -> Iterator[str]:
    """Yield all lines about the kernel."""
    jet = bench_jet()
    for lines in (flight_lines, evaluation_lines, scipy_lines, thread_lines):
        yield from lines(jet)
