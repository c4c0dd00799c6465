"""The state at the first input of a recovery, kept so that other recoveries go on from it."""

from typing import NamedTuple

import numpy as np

from sim.core import kernel
from sim.core.air.wind import N_AIR_MEMORY
from sim.core.loads.hinge import N_HINGE_MOMENT
from sim.core.pilot.control import N_GYRO_MEMORY
from sim.core.script_layout import N_MEMORY

FORK_TICK, FORK_PARTS, FORK_HIGHEST, N_FORK = range(4)
NOT_YET = -1.0


class Fork(NamedTuple):
    """What a flight carries from tick to tick, as it is between look and move of one tick.

    ``x`` state, ``memory`` of the pilot (N_MEMORY,), ``gyro`` and ``wind`` of their
    filters, ``target`` of the servos, which have dead bands, ``hinge`` moments on them,
    ``clock`` (N_FORK,): the tick, in how many parts its steps are cut, the greatest height so far
    [m]. ``clock[FORK_TICK]`` is negative while nothing is kept.
    """

    x: np.ndarray
    memory: np.ndarray
    gyro: np.ndarray
    wind: np.ndarray
    target: np.ndarray
    hinge: np.ndarray
    clock: np.ndarray


@kernel
def new_fork(size, servos):
    """Return a fork that keeps nothing yet, for so many states and servos."""
    fork = Fork(
        x=np.zeros(size),
        memory=np.zeros(N_MEMORY),
        gyro=np.zeros(N_GYRO_MEMORY),
        wind=np.zeros(N_AIR_MEMORY),
        target=np.zeros(servos),
        hinge=np.zeros((servos, N_HINGE_MOMENT)),
        clock=np.zeros(N_FORK),
    )
    fork.clock[FORK_TICK] = NOT_YET
    return fork


@kernel(entry=False)
def copied(source, target):
    """Copy one array (n,) to another: numba takes a second to compile ``target[:] = source``."""
    for i in range(source.size):
        target[i] = source[i]


@kernel(entry=False, borrowing=True)
def keep(fork, x, memory, gyro, wind, target, hinge, tick, parts, highest):
    """Keep the state of a tick whose pilot has looked, and not yet moved."""
    copied(x, fork.x)
    copied(memory, fork.memory)
    copied(gyro, fork.gyro)
    copied(wind, fork.wind)
    copied(target, fork.target)
    for i in range(hinge.shape[0]):
        copied(hinge[i], fork.hinge[i])
    fork.clock[FORK_TICK] = tick
    fork.clock[FORK_PARTS] = parts
    fork.clock[FORK_HIGHEST] = highest


@kernel(entry=False)
def take_up(fork, x, memory, gyro, wind, target, hinge):
    """Put the kept state back; return (tick, parts, greatest height)."""
    copied(fork.x, x)
    copied(fork.memory, memory)
    copied(fork.gyro, gyro)
    copied(fork.wind, wind)
    copied(fork.target, target)
    for i in range(hinge.shape[0]):
        copied(fork.hinge[i], hinge[i])
    clock = fork.clock
    return int(clock[FORK_TICK]), int(clock[FORK_PARTS]), clock[FORK_HIGHEST]
