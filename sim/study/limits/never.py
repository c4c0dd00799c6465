"""Manoeuvres that a pack meets the requirement in nowhere, and the limit over the others.

A search over all manoeuvres finds nothing where one of them fails at the foremost balance point
by every recovery. That one is flown out there with all draws, so that what never comes back is
told from what comes back too low; the aft limit of the rest is searched by itself.
"""

from collections.abc import Sequence

import numpy as np

from sim.core import script_layout as s
from sim.judge import is_back, is_resolved
from sim.study.flights.cases import heights, infinite_unless_back
from sim.study.flights.running import Leg
from sim.study.limits.search import Search
from sim.study.results.aft_limit import NeverMet


def never_met(search: Search) -> tuple[NeverMet, ...]:
    """Return the manoeuvres that no recovery brings back enough of, at any balance point tried."""
    names, recoveries = search.study.limit_manoeuvres, search.study.limit_recoveries
    front = search.foremost()
    return tuple(
        _told(search, front, m)
        for m in _failing(search, names)
        if not _shown_aft(search, m, recoveries)
    )


def fails_ahead(search: Search, manoeuvres: Sequence[str]) -> tuple[NeverMet, ...]:
    """Return which of some manoeuvres fail at the foremost balance point, whatever they do aft."""
    front = search.foremost()
    return tuple(_told(search, front, m) for m in _failing(search, manoeuvres))


def _failing(search: Search, manoeuvres: Sequence[str]) -> list[str]:
    """Return the manoeuvres that no recovery stands in at the foremost balance point."""
    front, recoveries = search.foremost(), search.study.limit_recoveries
    if search.at(front) is None:
        return []
    return [m for m in manoeuvres if not any(search.passes(front, r, (m,)) for r in recoveries)]


def _shown_aft(search: Search, manoeuvre: str, recoveries: Sequence[str]) -> bool:
    """Return whether any place flown shows the share asked for in a manoeuvre."""
    return any(
        search.shows(place, r, (manoeuvre,))
        for r in recoveries
        for place in search.lost.get((r, manoeuvre), {})
    )


def _told(search: Search, front: float, manoeuvre: str) -> NeverMet:
    """Return a manoeuvre flown out at the foremost place by the recovery that loses least there."""
    draws = np.arange(search.wish.draws)
    entry, floor = search.study.limit_heights(manoeuvre)
    ready = search.at(front)
    assert ready is not None
    legs = [
        Leg(ready, search.files.manoeuvres[manoeuvre], search.files.recoveries[r], entry, draws)
        for r in search.study.limit_recoveries
    ]
    flown = search.runner.fly(legs)
    lost = [int((~is_back(rows, entry, floor)).sum()) for rows in flown]
    best = int(np.argmin(lost))
    needed = infinite_unless_back(flown[best], s.R_DROP) + floor
    told = is_resolved(flown[best])
    never = int((told & ~np.isfinite(needed)).sum())
    low, high = search.looks.limits(draws.size - lost[best], draws.size)
    places = {
        place
        for r in search.study.limit_recoveries
        for place, flights in search.lost.get((r, manoeuvre), {}).items()
        if flights
    }
    return NeverMet(
        manoeuvre=manoeuvre,
        recovery=search.study.limit_recoveries[best],
        balance_aft_mm=front,
        places=len(places),
        flights=draws.size,
        lost=lost[best],
        never=never,
        lost_low=1.0 - high,
        lost_high=1.0 - low,
        entry_m=entry,
        floor_m=floor,
        need_m=heights(needed).p95,
        unresolved=int((~told).sum()),
        shown=lost[best] - int((~told).sum()) > search.bearable,
    )
