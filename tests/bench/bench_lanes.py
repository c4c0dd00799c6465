"""How long the kernel's strips take against C with eight draws side by side.

The kernel has the strips of one flight in its lanes; ``strips_in_lanes.c`` has eight draws in them,
which is the limit to chase. Both evaluate the same strips of eight moments of a spin: what the
strips' own air is, their tables, loads, and how their separation follows; wakes, body, power and
rigid body are left out.
"""

import ctypes
import platform
import shutil
import subprocess
import time
from collections.abc import Iterator
from functools import partial
from itertools import chain
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import numpy as np

from sim.core import kernel
from sim.core.layout import (
    E_MOST_LAG,
    F_HELPER,
    F_RATE_MAX,
    F_WASHED,
    SI_SURFACE,
    X_RATE,
    X_VEL,
    Z_ONE_SIDE,
    Z_SEPARATED,
)
from sim.core.loads import lanes as strip_lanes
from sim.core.loads import lookup
from sim.core.loads.lanes import BLOCK, K_ANSWERED, K_RATE, K_STATE, LANES, SPOT_LANE, SPOT_TABLE
from sim.core.loads.lookup import N_COLUMNS, N_S, X0
from sim.core.loads.separation import MOST_TURN, _block_separation
from sim.core.loads.strip_air import SLOWEST, _block_air, _block_separated
from sim.core.loads.strips import _block_forces, _look_up
from sim.core.motion.derivative import derivative, offsets
from sim.core.motion.integrate import scratch
from sim.pack.assemble import Assembled
from tests.bench.bench_kernel import bench_jet, held_steps, hold_spin, least, spinning, thread_lines

DRAWS = 8
APART = 20  # steps of 5 ms between the draws' moments of the spin
ROUNDS, TIMES = 500, 20
# as free as `sim.core.FASTMATH` and freer: a slower C would flatter. Not -ffast-math itself, which
# would change how the whole process rounds its smallest numbers
FREE = ("no-math-errno", "no-trapping-math", "no-signed-zeros", "finite-math-only")
FREER = ("associative-math", "reciprocal-math")
FLAGS = ["-O3", "-march=native", "-shared", "-fPIC", *(f"-f{name}" for name in FREE + FREER)]
if platform.machine() in ("x86_64", "AMD64"):
    FLAGS.append("-mprefer-vector-width=512")  # where there are such registers
TITLE = f"strips against C with {DRAWS} draws in lanes"
SAME = 1e-12  # numbers further apart are not those of the same strips
AIR = (
    "U", "V", "W", "P", "Q", "R", "MEAN", "SLOPE", "ACROSS", "DU", "DV", "DW", "DP", "DQ", "DR",
    "DMEAN", "DSLOPE", "SIDESLIP", "HELPED", "RIGHT", "MOST_LAG", "BOUND",
)  # fmt: skip


class Strips(NamedTuple):
    """What both evaluate: airs (DRAWS, m, AIR), lanes (DRAWS, blocks * BLOCK), tables flat."""

    first_block: np.ndarray
    spots: np.ndarray
    surface: np.ndarray
    tables: np.ndarray
    airs: np.ndarray
    lanes: np.ndarray


class Found(NamedTuple):
    """What both find: totals (DRAWS, 6) and sums (DRAWS, m, 4) over rho/2, rates (DRAWS, n)."""

    totals: np.ndarray
    sums: np.ndarray
    rates: np.ndarray


@kernel
def kernel_strips(n, first_block, spots, tables, airs, lanes, totals, sums, rates):
    """Evaluate the strips of one draw ``n`` times with the kernel's own parts."""
    for _ in range(n):
        totals[:] = 0.0
        for j in range(airs.shape[0]):
            air = airs[j]
            for block in range(first_block[j], first_block[j + 1]):
                o = np.uint32(block * BLOCK)
                _block_separated(o, lanes)
                _block_air(
                    o, air[0], air[1], air[2], air[3], air[4], air[5], air[6], air[7], air[8],
                    lanes,
                )  # fmt: skip
        _look_up(spots, tables, lanes)
        for j in range(airs.shape[0]):
            mean, linear, stalled, askew = 0.0, 0.0, 0.0, 0.0
            for block in range(first_block[j], first_block[j + 1]):
                fx, fy, fz, mx, my, mz, one, two, three, four = _block_forces(
                    np.uint32(block * BLOCK), lanes
                )
                totals[0], totals[1], totals[2] = totals[0] + fx, totals[1] + fy, totals[2] + fz
                totals[3], totals[4], totals[5] = totals[3] + mx, totals[4] + my, totals[5] + mz
                mean, linear = mean + one, linear + two
                stalled, askew = stalled + three, askew + four
            sums[j, 0], sums[j, 1], sums[j, 2], sums[j, 3] = mean, linear, stalled, askew
        for j in range(airs.shape[0]):
            air = airs[j]
            for block in range(first_block[j], first_block[j + 1]):
                _block_separation(
                    np.uint32(block * BLOCK), air[9], air[10], air[11], air[12], air[13], air[14],
                    max(air[0], 0.0), air[15], air[16], air[17], air[18], air[19], air[20], air[21],
                    0.0, lanes,
                )  # fmt: skip
        for i in range(spots.shape[1]):
            o = np.uint32(spots[SPOT_LANE, i])
            spot = lanes[o + K_ANSWERED]
            k = min(N_S - 2, max(0, int(spot)))
            t = np.uint32(spots[SPOT_TABLE, i] + N_COLUMNS * k)
            x0 = tables[t + X0]
            x0 += (spot - k) * (tables[t + N_COLUMNS + X0] - x0)
            rates[i] = lanes[o + K_RATE] * (x0 - lanes[o + K_STATE])


def _airs(jet: Assembled, x: np.ndarray, sums: np.ndarray, out: np.ndarray) -> np.ndarray:
    """Return what each surface meets (m, AIR) in a state: still air, nothing turned at fins."""
    model = jet.model
    _, _, o_induced, o_wash, _ = offsets(model)
    u, v, w = x[X_VEL : X_VEL + 3]
    m = len(model.surfaces)
    airs, speed = np.zeros((m, len(AIR))), np.linalg.norm([u, v, w])
    for j, surface in enumerate(model.surfaces):
        turn = x[o_wash : o_wash + m].sum() * surface[F_WASHED]
        down = surface[F_WASHED] * max(u, 0.0) * out[o_wash : o_wash + m].sum()
        helper = int(surface[F_HELPER])
        helped = 1.0 - sums[helper, Z_SEPARATED] if helper >= 0 else 0.0
        right = -sums[helper, Z_ONE_SIDE] if helper >= 0 else 0.0
        induced = slice(o_induced + 2 * j, o_induced + 2 * j + 2)
        airs[j] = (
            u + turn * w, v, w - turn * max(u, 0.0), *x[X_RATE : X_RATE + 3], *x[induced],
            w * max(u, 0.0) / speed, *out[X_VEL : X_VEL + 2], out[X_VEL + 2] - down,
            *out[X_RATE : X_RATE + 3], *out[induced], v / speed, helped, right,
            model.env[E_MOST_LAG], surface[F_RATE_MAX],
        )  # fmt: skip
    return airs


def spin_strips(jet: Assembled) -> Strips:
    """Return the strips of eight moments of a spin, as the right-hand side leaves them."""
    work, inputs = scratch(jet.model)
    x = spinning(jet)
    hold_spin(jet, inputs)
    out, airs, lanes = np.zeros_like(x), [], []
    for _ in range(DRAWS):
        held_steps(APART, x, jet.model, inputs, work, 0.005)
        derivative(x, jet.model, inputs, work, 0.0, out)
        airs.append(_airs(jet, x, work.sums, out))
        lanes.append(work.lanes.copy())
    return Strips(
        first_block=work.first_block,
        spots=work.spots,
        surface=jet.model.strip_index[SI_SURFACE].copy(),
        tables=work.tables,
        airs=np.array(airs),
        lanes=np.array(lanes),
    )


def room(strips: Strips) -> Found:
    """Return arrays for what is found."""
    m, n = strips.airs.shape[1], strips.surface.size
    return Found(np.zeros((DRAWS, 6)), np.zeros((DRAWS, m, 4)), np.zeros((DRAWS, n)))


def by_kernel(strips: Strips, found: Found, rounds: int) -> None:
    """Evaluate all draws, one after the other."""
    for d in range(DRAWS):
        kernel_strips(
            rounds, strips.first_block, strips.spots, strips.tables, strips.airs[d],
            strips.lanes[d], found.totals[d], found.sums[d], found.rates[d],
        )  # fmt: skip


def macros() -> list[str]:
    """Return the places of `sim.core.loads` as the C file wants them."""
    places = {n: p // LANES for n, p in vars(strip_lanes).items() if n.startswith("K_")}
    columns = {n: getattr(lookup, n) for n in ("CN", "CC", "CM", "X0", "DCN", "DCC", "DCM", "G0")}
    airs = {f"A_{name}": i for i, name in enumerate(AIR)}
    rest = {
        "DRAWS": DRAWS, "STRIDE": BLOCK // LANES, "A_COLUMNS": len(AIR), "N_S": N_S,
        "N_COLUMNS": N_COLUMNS, "S_FIRST": lookup.S_FIRST,
        "NODES_PER_UNIT": lookup.NODES_PER_UNIT, "SLOWEST": SLOWEST, "MOST_TURN": MOST_TURN,
    }  # fmt: skip
    every = {**places, **columns, **airs, **rest}
    return [f"-D{name}=({value!r})" for name, value in every.items()]


class LaneC:
    """The C file compiled, and its arrays: lanes (n, STRIDE, DRAWS), airs (m, AIR, DRAWS)."""

    def __init__(self, strips: Strips, compiler: str) -> None:
        source = Path(__file__).with_name("strips_in_lanes.c")
        with TemporaryDirectory() as folder:
            library = Path(folder) / "lanes.so"
            call = [compiler, *FLAGS, *macros(), str(source), "-o", str(library), "-lm"]
            subprocess.run(call, check=True, capture_output=True)
            self.run = ctypes.CDLL(str(library)).strips_in_lanes
        self.run.restype = None
        places = strips.spots[SPOT_LANE][:, None] + LANES * np.arange(BLOCK // LANES)
        self.lanes = np.ascontiguousarray(strips.lanes[:, places].transpose(1, 2, 0))
        self.fixed = np.ascontiguousarray(strips.lanes[0][places])
        self.airs = np.ascontiguousarray(strips.airs.transpose(1, 2, 0))
        self.tables = np.tile(strips.tables, DRAWS)
        self.table_size = strips.tables.size
        self.surface, self.table = strips.surface, strips.spots[SPOT_TABLE].copy()
        out = room(strips)
        self.out = [np.ascontiguousarray(np.moveaxis(a, 0, -1)) for a in out]

    def evaluate(self, rounds: int) -> Found:
        """Evaluate all draws side by side."""
        long = ctypes.c_long
        n, m = self.surface.size, self.airs.shape[0]
        whole = (self.surface, self.table)
        floats = (self.tables, self.airs, self.fixed, self.lanes, *self.out)
        self.run(
            long(rounds), long(n), long(m), *(ctypes.c_void_p(a.ctypes.data) for a in whole),
            long(self.table_size), *(ctypes.c_void_p(a.ctypes.data) for a in floats),
        )  # fmt: skip
        return Found(*(np.moveaxis(a, -1, 0) for a in self.out))


def apart(ours: Found, theirs: Found) -> float:
    """Return the greatest difference as a share of the greatest number of its kind."""
    pairs = zip(ours, theirs, strict=True)
    return max(float(np.abs(a - b).max() / np.abs(a).max()) for a, b in pairs)


def lane_lines() -> Iterator[str]:
    """Yield the kernel's time for its strips over that of C with a draw a lane."""
    compiler = next((found for name in ("cc", "gcc", "clang") if (found := shutil.which(name))), "")
    if not compiler:
        yield f"{TITLE}: skipped, no C compiler (cc, gcc, clang)"
        return
    strips = spin_strips(bench_jet())
    found = room(strips)
    try:
        lane = LaneC(strips, compiler)
    except subprocess.CalledProcessError as wrong:
        said = wrong.stderr.decode(errors="replace").partition("\n")[0]
        yield f"{TITLE}: skipped, {compiler} said {said}"
        return
    by_kernel(strips, found, 1)
    differ = apart(found, lane.evaluate(1))
    if not differ < SAME:
        yield f"{TITLE}: not the same numbers, {differ:.0e} apart"
        return
    ours, theirs = np.inf, np.inf
    for _ in range(TIMES):  # alternately, so that both have the same disturbed moments
        ours = min(ours, least(partial(by_kernel, strips, found, ROUNDS), 1, time.thread_time))
        theirs = min(theirs, least(partial(lane.evaluate, ROUNDS), 1, time.thread_time))
    each = 1e9 / (ROUNDS * DRAWS)
    yield (
        f"{TITLE}: {ours / theirs:.2f} x its time a draw"
        f" ({each * ours:.0f} and {each * theirs:.0f} ns; numbers {differ:.0e} apart)"
    )


if __name__ == "__main__":
    for line in chain(lane_lines(), thread_lines(bench_jet())):
        print(line, flush=True)
