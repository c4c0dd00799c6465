"""Scratch arrays for a model, and one step of the Runge-Kutta method with them."""

from typing import NamedTuple

import numpy as np

from sim.core import kernel
from sim.core.layout import L_MZ, N_LOADS, N_SUMS, X_SERVO
from sim.core.loads.hinge import pack_hinges
from sim.core.loads.lanes import pack_lanes, pack_shades
from sim.core.loads.slipstream import pack_tubes
from sim.core.motion.march import march


class Inputs(NamedTuple):
    """What is held over one control tick: servo targets, duties, wind in NED."""

    target: np.ndarray
    duty: np.ndarray
    wind: np.ndarray


class Work(NamedTuple):
    """Scratch of one flight.

    The strips in blocks (lanes, first_block, spots, met, mask: see `lanes`), the tables
    laid out flat, tubes of slipstreams (see `slipstream`), what moves with servos (hinges, hinged:
    see `hinge`), loads (6,), power (N_LOADS,), rotor
    accelerations, speeds, duties and jets (k,),
    sums (m, N_SUMS), and four states (state_size,): k1 and k2 for whoever needs rates,
    total and mid for `march`.
    """

    lanes: np.ndarray
    first_block: np.ndarray
    spots: np.ndarray
    met: np.ndarray
    mask: np.ndarray
    tables: np.ndarray
    tubes: np.ndarray
    hinges: np.ndarray
    hinged: np.ndarray
    loads: np.ndarray
    power: np.ndarray
    rotor: np.ndarray
    speed: np.ndarray
    duty: np.ndarray
    jets: np.ndarray
    sums: np.ndarray
    k1: np.ndarray
    k2: np.ndarray
    total: np.ndarray
    mid: np.ndarray


@kernel(entry=False, passed_on=True)
def new_work(model):
    """Return scratch arrays for ``model``; its strips are taken over as they are now.

    SI units, see `Work`. Own: how scratch is laid out.
    """
    n_strip = model.strips.shape[1]
    m = model.surfaces.shape[0]
    k = model.units.shape[0]
    size = X_SERVO + model.servos.shape[0] + 2 * k + 4 * m + n_strip
    lanes, first_block, spots = pack_lanes(
        model.strips, model.strip_index, m, model.tables.shape[1] * model.tables.shape[2]
    )
    met, mask = pack_shades(model.pairs, model.sources.shape[0], spots, first_block[m])
    hinges, hinged = pack_hinges(model.strips, spots, model.servos)
    sums = np.zeros((m, N_SUMS))
    return Work(
        lanes=lanes,
        first_block=first_block,
        spots=spots,
        met=met,
        mask=mask,
        tables=model.tables.reshape(model.tables.size),
        tubes=pack_tubes(model.units, lanes, first_block[m]),
        hinges=hinges,
        hinged=hinged,
        loads=np.zeros(L_MZ + 1),
        power=np.zeros(N_LOADS),
        rotor=np.zeros(k),
        speed=np.zeros(k),
        duty=np.zeros(k),
        jets=np.zeros(k),
        sums=sums,
        k1=np.zeros(size),
        k2=np.zeros(size),
        total=np.zeros(size),
        mid=np.zeros(size),
    )


@kernel(entry=False)
def new_inputs(model):
    """Return inputs at rest: surfaces at zero, no throttle, still air."""
    return Inputs(np.zeros(model.servos.shape[0]), np.zeros(model.units.shape[0]), np.zeros(3))


@kernel
def scratch(model):
    """Return (work, inputs) for one flight of ``model``."""
    return new_work(model), new_inputs(model)


@kernel
def rk4_step(x, model, inputs, work, dt):
    """Advance ``x`` in place by ``dt`` [s] with the inputs held; see `march.march`."""
    march(x, model, inputs, work, dt, 1)
