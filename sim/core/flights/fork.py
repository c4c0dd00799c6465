"""The state at the first input of a recovery, kept so that other recoveries go on from it."""

from typing import NamedTuple

import numpy as np

from sim.core import kernel
from sim.core.pilot.control import DELAY_SLOTS
from sim.core.script_layout import N_MEMORY

F_TICK, F_PARTS, F_HIGHEST, N_FORK = range(4)
NOT_YET = -1.0


class Fork(NamedTuple):
    """What a flight carries from tick to tick, as it is between look and move of one tick.

    ``x`` state, ``memory`` of the pilot (N_MEMORY,), ``gyro`` and ``wind`` of their
    filters, ``target`` of the servos, which have dead bands, ``clock`` (N_FORK,): the
    tick, in how many parts its steps are cut, the greatest height so far [m].
    ``clock[F_TICK]`` is negative while nothing is kept.
    """

    x: np.ndarray
    memory: np.ndarray
    gyro: np.ndarray
    wind: np.ndarray
    target: np.ndarray
    clock: np.ndarray


@kernel
def new_fork(size, servos):
    """Return a fork that keeps nothing yet, for so many states and servos."""
    fork = Fork(
        x=np.zeros(size),
        memory=np.zeros(N_MEMORY),
        gyro=np.zeros(7 + 3 * DELAY_SLOTS),
        wind=np.zeros(5),
        target=np.zeros(servos),
        clock=np.zeros(N_FORK),
    )
    fork.clock[F_TICK] = NOT_YET
    return fork


@kernel(entry=False)
def copied(source, target):
    """Copy one array (n,) to another."""
    for i in range(source.size):
        target[i] = source[i]


@kernel(entry=False)
def keep(fork, x, memory, gyro, wind, target, tick, parts, highest):
    """Keep the state of a tick whose pilot has looked, and not yet moved."""
    copied(x, fork.x)
    copied(memory, fork.memory)
    copied(gyro, fork.gyro)
    copied(wind, fork.wind)
    copied(target, fork.target)
    fork.clock[F_TICK] = tick
    fork.clock[F_PARTS] = parts
    fork.clock[F_HIGHEST] = highest


@kernel(entry=False)
def take_up(fork, x, memory, gyro, wind, target):
    """Put the kept state back; return (tick, parts, greatest height)."""
    copied(fork.x, x)
    copied(fork.memory, memory)
    copied(fork.gyro, gyro)
    copied(fork.wind, wind)
    copied(fork.target, target)
    clock = fork.clock
    return int(clock[F_TICK]), int(clock[F_PARTS]), clock[F_HIGHEST]
