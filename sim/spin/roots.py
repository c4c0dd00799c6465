"""Steady spins found directly: every equilibrium of held controls, and whether it holds."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import degrees, log, pi

import numpy as np

from sim import tables
from sim.core.motion.rates import RATES
from sim.describe import Script
from sim.pack.assemble import Assembled
from sim.spin.continuation import equilibria
from sim.spin.equilibrium import DOWN, TURN, VELOCITY, Held, SpinBalance
from sim.spin.stability import eigenvalues
from sim.trim.trimming import level

Sticks = Sequence[float]  # elevator, aileron, rudder, throttle


@dataclass(frozen=True)
class SpinRoot:
    """One equilibrium: a spin, a spiral, a glide or a deep stall that stays as it is.

    Turn rates are about the vertical, plus to the right; ``rate`` is the turn rate times
    span over twice the airspeed; ``load_g`` the load along the aeroplane's own vertical;
    ``left_over`` the largest of the six accelerations not balanced [g, about the axes at
    the radius of gyration]; ``eigenvalues`` [1/s], the least stable first.
    """

    alpha_deg: float
    beta_deg: float
    pitch_deg: float
    bank_deg: float
    speed_mps: float
    turn_dps: float
    rates_dps: tuple[float, float, float]
    rate: float
    sink_mps: float
    radius_m: float
    load_g: float
    left_over: float
    eigenvalues: np.ndarray
    unknowns: np.ndarray

    @property
    def growth_per_s(self) -> float:
        """Real part of the least stable eigenvalue [1/s]."""
        return float(self.eigenvalues[0].real)

    @property
    def stable(self) -> bool:
        """Whether a small disturbance dies out."""
        return self.growth_per_s < 0.0

    @property
    def swings(self) -> bool:
        """Whether the least stable motion swings (a complex pair) or runs one way."""
        return bool(abs(self.eigenvalues[0].imag) > 1e-9)

    @property
    def period_s(self) -> float | None:
        """Period of the least stable motion [s], 2 pi / w by definition; None: no swing."""
        return 2.0 * pi / abs(float(self.eigenvalues[0].imag)) if self.swings else None

    @cached_property
    def half_time_s(self) -> float:
        """Time to half, negative to double, of the least stable motion [s].

        By definition ln 2 / -n.
        """
        return log(2.0) / -self.growth_per_s if self.growth_per_s != 0.0 else float("inf")


def root_of(balance: SpinBalance, z: np.ndarray) -> SpinRoot:
    """Return what an equilibrium with the unknowns ``z`` is, in a reader's units [deg, m, s, g].

    By definition: angles of the airspeed and of gravity in body axes [stevens2015]; the radius is
    the speed across the vertical over the turn rate.
    """
    velocity, down = z[VELOCITY], z[DOWN] / np.linalg.norm(z[DOWN])
    speed = float(np.linalg.norm(velocity))
    sink, turn = float(velocity @ down), float(z[TURN])
    across = float(np.linalg.norm(velocity - sink * down))
    values = eigenvalues(balance, z)
    left = balance.residual(z)[:6]
    balance.rates_into(np.empty(balance.x.size), RATES)
    return SpinRoot(
        alpha_deg=degrees(np.arctan2(velocity[2], velocity[0])),
        beta_deg=degrees(np.arcsin(velocity[1] / speed)),
        pitch_deg=degrees(np.arcsin(np.clip(-down[0], -1.0, 1.0))),
        bank_deg=degrees(np.arctan2(down[1], down[2])),
        speed_mps=speed,
        turn_dps=degrees(turn),
        rates_dps=(degrees(turn * down[0]), degrees(turn * down[1]), degrees(turn * down[2])),
        rate=0.5 * turn * balance.span / speed,
        sink_mps=sink,
        radius_m=across / abs(turn) if turn != 0.0 else float("inf"),
        load_g=-float(balance.work.loads[2]) / balance.weight,
        left_over=float(np.abs(left).max()),
        eigenvalues=values,
        unknowns=z,
    )


def spin_roots(balance: SpinBalance, known: Sequence[np.ndarray] = ()) -> list[SpinRoot]:
    """Return every equilibrium found, the fastest to the right first.

    ``known`` are unknowns of a neighbouring case's, from which the search starts as well.
    """
    roots = [root_of(balance, z) for z in equilibria(balance, known)]
    return sorted(roots, key=lambda root: -root.turn_dps)


def balance_of(assembled: Assembled, held: Held, height_m: float | None = None) -> SpinBalance:
    """Return the balance of an aeroplane with controls held, at a height above the field [m]."""
    if height_m is None:
        height_m = tables.spin_search().height_m
    return SpinBalance(assembled, held, height_m)


def held_at(
    assembled: Assembled, sticks: Sequence[float], speed_over_stall: float | None = None
) -> Held:
    """Return sticks (elevator, aileron, rudder, throttle) with the trim that a flight has [-].

    Own: the trim is that of level flight at a multiple of the stall speed, where a manoeuvre
    begins; without level flight there is none.
    """
    if speed_over_stall is None:
        speed_over_stall = tables.spin_search().trim_over_stall
    trim = level(assembled, speed_over_stall * assembled.stall.speed_mps)
    trims = np.array([trim.elevator_stick, trim.aileron_stick, trim.rudder_stick])
    return Held(np.array(sticks, dtype=float), trims if trim.found else np.zeros(3))


def sticks_of(held: Script | Sticks) -> Sticks:
    """Return sticks held as they are, or those that a script ends with in a spin to the right.

    A script's are those of its last phase of scripted sticks; the throttle is idle where the
    script does not move it.

    Raises
    ------
    ValueError
        No phase holds sticks.
    """
    if not isinstance(held, Script):
        return held
    phases = [phase for phase in held.phases if phase.pilot == "sticks"]
    if not phases:
        raise ValueError(f"{held.name}: has no phase with sticks held; name another script")
    last = phases[-1]
    return last.elevator, last.aileron, last.rudder, last.throttle or 0.0
