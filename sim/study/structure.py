"""What a study's flights asked of servos and wing: limits passed, and the hardest flown again."""

from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from math import degrees
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core import measured_layout as m
from sim.core import script_layout as s
from sim.describe import StudyFiles, load_recovery, resolve_setup
from sim.fly.flying import fly_one
from sim.judge import is_resolved
from sim.judge.agility import flew
from sim.pack.assemble import Assembled
from sim.structure.flight_loads import FlightLoads, ServoLoad, flight_loads, limit_bending
from sim.study.changes import today_of
from sim.study.results.set_up import SetUpResult
from sim.study.results.structure import ManoeuvreLoad, ServoNeed, Structure
from sim.study.running import Runner, workers_wanted
from sim.weigh import weigh_set_up

SAID = "what servos and wing carry"
NCM = 100.0  # N cm in a N m


class Flown(NamedTuple):
    """One flight of a set-up, as the study flew it: enough to fly it again."""

    manoeuvre: str
    recovery: str | None  # None: what a manoeuvre of agility is followed by
    side: float
    draw: int
    entry_m: float
    load_g: float
    speed_mps: float  # NaN: not kept
    alpha: float


def with_structure(
    runner: Runner, files: StudyFiles, setups: Sequence[SetUpResult], ready: Sequence[Assembled]
) -> tuple[SetUpResult, ...]:
    """Return the set-ups with what their flights asked of servos and wing."""
    mass = limit_mass(files)
    return tuple(
        replace(setup, structure=structure_of(runner, files, setup, one, mass))
        for setup, one in zip(setups, ready, strict=True)
    )


def limit_mass(files: StudyFiles) -> float:
    """Return the mass [kg] that the stated limit load factor is taken for: the set-up of today."""
    name = today_of(files)
    wish = next((x for x in files.study.setups if x.name == name), name)
    return weigh_set_up(files.aeroplane, resolve_setup(files.aeroplane, wish)).mass_kg


def structure_of(
    runner: Runner, files: StudyFiles, setup: SetUpResult, ready: Assembled, mass_kg: float
) -> Structure | None:
    """Return what the flights of a set-up asked; None where none could be calculated."""
    known = flown_of(runner, setup, files)
    if not known:
        return None
    limits = ready.aeroplane.structure
    loads = np.array([x.load_g for x in known])
    speeds = np.array([x.speed_mps for x in known if not np.isnan(x.speed_mps)])
    chosen = hardest(known)
    again = _again(runner, files, ready, chosen)
    bending = np.array([x.bending_nm for x in again]) / limit_bending(ready, mass_kg)
    worst = int(bending.argmax())
    return Structure(
        limit_g=limits.max_load_factor_g,
        most_g=float(loads.max()),
        p95_g=_p95(loads),
        over_g=int((loads > limits.max_load_factor_g).sum()),
        flights=len(known),
        unresolved=sum(int((~is_resolved(c.rows)).sum()) for c in setup.cases)
        + sum(int((~flew(x.rows)).sum()) for x in setup.agility),
        never_exceed_mps=limits.never_exceed_mps,
        most_mps=float(speeds.max(initial=0.0)),
        p95_mps=_p95(speeds),
        over_mps=int((speeds > limits.never_exceed_mps).sum()),
        speeds_of=speeds.size,
        loads=_by_manoeuvre(known, limits.max_load_factor_g),
        again=len(again),
        bending_share=float(bending[worst]),
        bending_in=chosen[worst].manoeuvre,
        bending_over=int((bending > 1.0).sum()),
        servos=servo_needs([(x.manoeuvre, y) for x, y in zip(chosen, again, strict=True)]),
    )


def flown_of(runner: Runner, setup: SetUpResult, files: StudyFiles) -> list[Flown]:
    """Return every flight of a set-up that could be calculated, those of agility among them."""
    out = []
    for case in setup.cases:
        for i in np.flatnonzero(is_resolved(case.rows)):
            row = case.rows[i]
            out.append(Flown(
                case.manoeuvre, case.recovery, float(case.sides[i]), int(case.which[i]),
                case.entry_m, abs(float(row[s.R_PEAK_LOAD])), float(row[s.R_PEAK_SPEED]),
                float(row[s.R_PEAK_ALPHA]),
            ))  # fmt: skip
    for one in setup.agility:
        both = files.manoeuvres[one.manoeuvre].sides == "both"
        for i in np.flatnonzero(flew(one.rows)):
            draw = int(one.which[i])
            side = float(runner.draws.sides[draw]) if both else 1.0
            row = one.rows[i]
            out.append(Flown(
                one.manoeuvre, None, side, draw, files.study.entry_m, float(row[m.M_LOAD]),
                float("nan"), float(row[m.M_ANGLE]),
            ))  # fmt: skip
    return out


def hardest(known: Sequence[Flown]) -> list[Flown]:
    """Return the flights to fly again: most load, most speed, most angle; none of them twice."""
    table = tables.servo_loads()
    keys = (
        (table.by_load, [x.load_g for x in known]),
        (table.by_speed, [np.nan_to_num(x.speed_mps, nan=-1.0) for x in known]),
        (table.by_angle, [x.alpha for x in known]),
    )
    taken: list[int] = []
    for count, values in keys:
        order = [int(i) for i in np.argsort(-np.array(values), kind="stable")]
        taken += [i for i in order if i not in taken][:count]
    return [known[i] for i in taken]


def _again(
    runner: Runner, files: StudyFiles, ready: Assembled, chosen: Sequence[Flown]
) -> list[FlightLoads]:
    """Fly flights again with their histories, and return what each asked."""
    after = load_recovery(tables.agility().recovery)

    def one(x: Flown) -> FlightLoads:
        recovery = after if x.recovery is None else files.recoveries[x.recovery]
        draw = runner.draws.physical[x.draw]
        script = files.manoeuvres[x.manoeuvre]
        return flight_loads(fly_one(ready, script, recovery, x.side, draw, x.entry_m))

    with ThreadPoolExecutor(workers_wanted(runner.workers)) as pool:
        return list(pool.map(one, chosen))


def _p95(values: np.ndarray) -> float:
    """Return what 95 % of values (n,) stay below, rounded outwards to one of them."""
    return float(np.quantile(values, 0.95, method="higher")) if values.size else float("nan")


def _by_manoeuvre(known: Sequence[Flown], limit_g: float) -> tuple[ManoeuvreLoad, ...]:
    found: dict[str, list[float]] = {}
    for x in known:
        found.setdefault(x.manoeuvre, []).append(x.load_g)
    return tuple(
        ManoeuvreLoad(name, len(loads), max(loads), sum(x > limit_g for x in loads))
        for name, loads in found.items()
    )


def servo_needs(flights: Iterable[tuple[str, FlightLoads]]) -> tuple[ServoNeed, ...]:
    """Return each channel's most, over flights by the name of their manoeuvre.

    A channel's panels have a servo each; the one that needs most counts.
    """
    found: dict[str, list[tuple[str, list[ServoLoad]]]] = {}
    for name, flight in flights:
        for channel in dict.fromkeys(x.channel for x in flight.servos):
            mine = [x for x in flight.servos if x.channel == channel]
            found.setdefault(channel, []).append((name, mine))
    return tuple(_need(channel, each) for channel, each in found.items())


def _need(channel: str, each: Sequence[tuple[str, Sequence[ServoLoad]]]) -> ServoNeed:
    name, most = max(
        ((name, x) for name, mine in each for x in mine), key=lambda pair: pair[1].needed_nm
    )
    return ServoNeed(
        channel=channel,
        stated_ncm=None if most.stated_nm is None else NCM * most.stated_nm,
        needed_ncm=NCM * most.needed_nm,
        manoeuvre=name,
        speed_mps=most.speed_mps,
        alpha_deg=degrees(most.alpha),
        deflection_deg=degrees(most.deflection),
        stalled=most.stalled,
        flights=sum(any(x.beyond_s > 0.0 for x in mine) for _, mine in each),
        held_flights=sum(any(x.held_s > 0.0 for x in mine) for _, mine in each),
        short_deg=degrees(max(x.short_rad for _, mine in each for x in mine)),
    )
