"""Spin equilibria along a path: the balance point moved aft, or the sticks moved.

At each stop the search starts from the neighbours' equilibria as well as afresh; between
stops an equilibrium is handed on by Newton's method, which tells which belong to one branch.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from sim import tables
from sim.pack.stalling import Stall
from sim.spin.continuation import apart
from sim.spin.equilibrium import SpinBalance
from sim.spin.roots import SpinRoot, root_of, spin_roots

Maker = Callable[[float], SpinBalance]
Watch = Callable[[int, int], None]


@dataclass(frozen=True)
class Stop:
    """One place on the path, the stall and the equilibria there."""

    at: float
    stall: Stall
    roots: tuple[SpinRoot, ...]


@dataclass(frozen=True)
class Link:
    """Two equilibria of neighbouring stops that are one branch: stop and place in each."""

    stop: int
    here: int
    there: int


@dataclass(frozen=True)
class SpinMap:
    """Equilibria along a path, and which belong together."""

    stops: tuple[Stop, ...]
    links: tuple[Link, ...]


def carried(balance: SpinBalance, root: SpinRoot) -> np.ndarray | None:
    """Return the unknowns that a neighbour's root becomes here, None where it ends."""
    search = tables.spin_search()
    z, error = balance.solve_free(root.unknowns)
    if error > search.accepted or apart(balance, z, root.unknowns) > search.branch:
        return None
    return z


def equilibria_along(make: Maker, values: Sequence[float], watch: Watch | None = None) -> SpinMap:
    """Return the equilibria at each of ``values``.

    Parameters
    ----------
    make : callable
        Gives the balance at a value.
    watch : callable, optional
        Told (stops done, stops in all).
    """
    balances = [make(value) for value in values]
    found: list[list[SpinRoot]] = []
    for i, balance in enumerate(balances):
        known = [root.unknowns for root in found[-1]] if found else []
        found.append(spin_roots(balance, known))
        if watch is not None:
            watch(i + 1, len(balances))
    for i in range(len(balances) - 2, -1, -1):
        # what was met first further along is handed back
        for root in found[i + 1]:
            _take(balances[i], found[i], carried(balances[i], root))
    stops = [
        Stop(float(v), b.assembled.stall, tuple(roots))
        for v, b, roots in zip(values, balances, found, strict=True)
    ]
    links = [link for i in range(len(stops) - 1) for link in _links(balances, stops, i)]
    return SpinMap(tuple(stops), tuple(links))


def _take(balance: SpinBalance, roots: list[SpinRoot], z: np.ndarray | None) -> None:
    """Add an equilibrium to a stop's if it is none of them."""
    same = tables.spin_search().same
    if z is not None and all(apart(balance, z, root.unknowns) > same for root in roots):
        roots.append(root_of(balance, z))
        roots.sort(key=lambda root: -root.turn_dps)


def _links(balances: list[SpinBalance], stops: list[Stop], i: int) -> list[Link]:
    """Return the links between a stop and the next: each root once, found from either side."""
    pairs = {(j, k) for j, k in _handed(balances[i + 1], stops[i], stops[i + 1])}
    pairs |= {(j, k) for k, j in _handed(balances[i], stops[i + 1], stops[i])}
    return [Link(i, j, k) for j, k in sorted(pairs)]


def _handed(balance: SpinBalance, one: Stop, other: Stop) -> list[tuple[int, int]]:
    """Return (place in ``one``, place in ``other``) of roots handed on to ``balance``."""
    same = tables.spin_search().same
    out = []
    for j, root in enumerate(one.roots):
        z = carried(balance, root)
        if z is None or not other.roots:
            continue
        lengths = [apart(balance, z, there.unknowns) for there in other.roots]
        nearest = int(np.argmin(lengths))
        if lengths[nearest] < same:
            out.append((j, nearest))
    return out
