"""What a study's flights asked of servos and wing: limits passed, and the hardest flown again."""

from collections.abc import Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from math import degrees
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core import measured_layout as m
from sim.core import script_layout as s
from sim.describe import StudyFiles, load_recovery, resolve_setup
from sim.fly.flying import fly_one
from sim.judge import is_resolved
from sim.judge.agility import flew
from sim.pack.assemble import Assembled
from sim.structure.flight_loads import FlightLoads, ServoLoad, flight_loads, limit_bending
from sim.study.changes import today_of
from sim.study.flights.running import Runner, workers_wanted
from sim.study.results.set_up import SetUpResult
from sim.study.results.structure import ManoeuvreLoad, ServoNeed, Structure
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
    torques: tuple[float, ...]  # that each servo needed [N m], KEPT_SERVOS of them
    off: tuple[float, ...]  # by how much the air held each from where it was asked to be [rad]


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
    judged = [i for i in _servos(ready) if ready.model.servos[i, k.V_TORQUE] > 0.0]
    chosen = hardest(known, judged)
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
        servos=_needs(ready, known, chosen, again),
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
                float(row[s.R_PEAK_ALPHA]), _kept(row, s.R_TORQUE), _kept(row, s.R_OFF),
            ))  # fmt: skip
    for one in setup.agility:
        both = files.manoeuvres[one.manoeuvre].sides == "both"
        for i in np.flatnonzero(flew(one.rows)):
            draw = int(one.which[i])
            side = float(runner.draws.sides[draw]) if both else 1.0
            row = one.rows[i]
            out.append(Flown(
                one.manoeuvre, None, side, draw, files.study.entry_m, float(row[m.M_LOAD]),
                float("nan"), float(row[m.M_ANGLE]), _kept(row, m.M_TORQUE), _kept(row, m.M_OFF),
            ))  # fmt: skip
    return out


def _kept(row: np.ndarray, first: int) -> tuple[float, ...]:
    return tuple(float(x) for x in row[first : first + s.KEPT_SERVOS])


def hardest(known: Sequence[Flown], judged: Sequence[int]) -> list[Flown]:
    """Return the flights to fly again: most load, speed, angle, and most asked of each servo.

    ``judged`` are the servos whose torque is stated. None of the flights comes twice, but one that
    asked most of a servo may stand for it already.
    """
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
    for servo in judged:
        most = int(np.argmax([x.torques[servo] for x in known]))
        taken += [] if most in taken else [most]
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


def _servos(ready: Assembled) -> range:
    return range(min(len(ready.aero.channels), s.KEPT_SERVOS))


def _needs(
    ready: Assembled, known: Sequence[Flown], chosen: Sequence[Flown], again: Sequence[FlightLoads]
) -> tuple[ServoNeed, ...]:
    """Return each channel's most over all flights; where no torque is stated over those again.

    A channel's panels have a servo each; the one that needs most counts.
    """
    flown_again = [(x.manoeuvre, y) for x, y in zip(chosen, again, strict=True)]
    rows = list(ready.aero.channels.items())[: s.KEPT_SERVOS]
    return tuple(
        need if need.stated_ncm is None else _of_all(need, ready, known, [
            i for (name, _), i in rows if name == need.channel
        ])
        for need in servo_needs(flown_again)
    )  # fmt: skip


def _of_all(
    need: ServoNeed, ready: Assembled, known: Sequence[Flown], mine: Sequence[int]
) -> ServoNeed:
    """Return a need counted over all flights; ``mine`` are the channel's servos."""
    most = NCM * np.array([[x.torques[i] for i in mine] for x in known]).max(axis=1)
    off = np.array([[x.off[i] for i in mine] for x in known]).max(axis=1)
    assert need.stated_ncm is not None
    return replace(
        need,
        needed_ncm=float(most.max()),
        p95_ncm=_p95(most),
        flights=int((most > need.stated_ncm).sum()),
        held_flights=int((off > ready.model.servos[mine[0], k.V_DEADBAND]).sum()),
        short_deg=degrees(float(off.max())),
    )


def servo_needs(flights: Iterable[tuple[str, FlightLoads]]) -> tuple[ServoNeed, ...]:
    """Return each channel's most, over flights with histories by the name of their manoeuvre."""
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
    stated = most.stated_nm
    needed = np.array([max(x.needed_nm for x in mine) for _, mine in each])
    return ServoNeed(
        channel=channel,
        stated_ncm=None if stated is None else NCM * stated,
        needed_ncm=NCM * most.needed_nm,
        p95_ncm=None if stated is None else NCM * _p95(needed),
        manoeuvre=name,
        speed_mps=most.speed_mps,
        alpha_deg=degrees(most.alpha),
        deflection_deg=degrees(most.deflection),
        stalled=most.stalled,
        at_stop=any(x.at_stop for _, mine in each for x in mine),
        flights=0 if stated is None else int((needed > stated).sum()),
        held_flights=sum(any(x.held for x in mine) for _, mine in each),
        short_deg=degrees(max(x.off_rad for _, mine in each for x in mine)),
    )
