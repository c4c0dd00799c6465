"""What one flight asked of its servos and its wing."""

from dataclasses import dataclass
from math import radians

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.draw_layout import ROLE_WING
from sim.core.layout import Model
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.pilot.control import command_angle
from sim.describe import resolve_setup
from sim.fly.columns import Floats
from sim.fly.flying import Flight
from sim.pack.assemble import Assembled, assemble
from sim.structure.strip_flow import StripFlow, flow_at, strip_flow
from sim.trim.trimming import level
from sim.weigh import weigh_set_up

AT_STOP = radians(0.5)  # numerical only: so near an end stop, on a first-order lag, stands at it
SMALL_SHARE = 0.5  # numerical only: a load that settled flow tells less of is no scale


@dataclass(frozen=True)
class ServoLoad:
    """The most that one servo had to give in a flight, and where.

    ``stated_nm`` is None where the file states no torque. ``needed_nm`` would hold the surface
    where sticks and gyro asked for it, flown moment by moment (`sim.core.loads.hinge`); ``stalled``
    True where the surface's own flow had mostly let go then. The air held it by at most ``off_rad``
    from there, further than its dead band where ``held``; ``at_stop`` where it ran to an end stop.
    """

    channel: str
    side: float
    stated_nm: float | None
    needed_nm: float
    speed_mps: float
    alpha: float
    deflection: float
    stalled: bool
    off_rad: float
    held: bool
    at_stop: bool


@dataclass(frozen=True)
class FlightLoads:
    """What a flight asked: its servos, the load factor [g], the speed, the wing's bending [N m].

    ``load_g`` keeps its sign; ``bending_nm`` is the most at either root.
    """

    servos: tuple[ServoLoad, ...]
    load_g: float
    speed_mps: float
    bending_nm: float
    stage: int


def flight_loads(flight: Flight) -> FlightLoads:
    """Return what a flight with its history asked of servos and wing."""
    h = flight.history[np.isfinite(flight.history).all(axis=1)]
    tick = float(h[1, s.H_T] - h[0, s.H_T]) if len(h) > 1 else 0.01
    every = max(1, round(tables.servo_loads().every_s / tick))
    peak = int(np.abs(h[:, s.H_LOAD]).argmax())
    servos = range(min(len(flight.assembled.aero.channels), s.KEPT_SERVOS))
    worst = [int(np.abs(h[:, s.H_TORQUE + i]).argmax()) for i in servos]
    rows = np.unique([*range(0, len(h), every), peak, *worst])
    flow = strip_flow(flight, h[rows])
    gone = flow.gone[np.searchsorted(rows, worst)]
    return FlightLoads(
        servos=tuple(_servo(flight, h, i, worst[i], flow.model, gone[i]) for i in servos),
        load_g=float(h[peak, s.H_LOAD]),
        speed_mps=float(h[:, s.H_SPEED].max()),
        bending_nm=float(root_bending(flight.assembled, flow).max()),
        stage=int(h[peak, s.H_STAGE]),
    )


def _servo(flight: Flight, h: Floats, i: int, at: int, model: Model, gone: Floats) -> ServoLoad:
    """Return what servo ``i`` did over the rows ``h``, the most of it ``at`` one of them.

    ``gone`` (n,) is what had separated there [-]. By definition of maxima.
    """
    ready, row, servo = flight.assembled, h[at], model.servos[i]
    (name, side), mine = list(ready.aero.channels)[i], model.strip_index[k.SI_CHANNEL] == i
    stated = ready.aeroplane.servo_types[ready.aeroplane.channels[name].servo].torque_ncm
    off, stands = np.abs(h[:, s.H_OFF + i]), h[:, s.H_SERVO + i]
    stops = (stands <= servo[k.V_MIN] + AT_STOP) | (stands >= servo[k.V_MAX] - AT_STOP)
    return ServoLoad(
        channel=name,
        side=side,
        stated_nm=None if stated is None else 0.01 * stated,
        needed_nm=float(abs(row[s.H_TORQUE + i])),
        speed_mps=float(row[s.H_SPEED]),
        alpha=float(row[s.H_ALPHA]),
        deflection=float(row[s.H_SERVO + i]),
        stalled=bool(gone[mine].mean() > 0.5),
        off_rad=float(off.max()),
        held=bool(off.max() > servo[k.V_DEADBAND]),
        at_stop=bool((stops & (off > servo[k.V_DEADBAND])).any()),
    )


def root_bending(ready: Assembled, flow: StripFlow) -> Floats:
    """Return the greater bending moment (t,) [N m] at the roots of right and left wing.

    Own: normal forces of the strips times their distance outboard of the root, added up. The wing's
    own mass would relieve it and is left out, which counts against the wing.
    """
    strips, index = flow.model.strips, flow.model.strip_index
    wing = (ready.roles[index[k.SI_SURFACE]] == ROLE_WING) & (strips[k.S_CARRIED] == 0.0)
    force = flow.pressure * strips[k.S_AREA]
    lift = -force * (flow.normal * strips[k.S_NZ] + flow.chordwise * strips[k.S_CZ])
    root = root_m(ready)
    y = ready.model.strips[k.S_RY] + float(ready.weighed.balance_m[1])
    sides = [
        np.abs((lift * np.maximum(np.abs(y) - root, 0.0))[:, wing & (side * y > 0.0)].sum(axis=1))
        for side in (1.0, -1.0)
    ]
    # settled lags leave out what overshoots in flight while flow lets go: as flown, where more
    flown = np.abs(flow.rows[:, s.H_LOAD]) * flow.model.mass[k.M_MASS] * STANDARD_GRAVITY
    settled = np.abs(flow.force_up)
    more = np.where(flown > settled, flown / np.maximum(settled, SMALL_SHARE * flown), 1.0)
    return np.asarray(np.maximum(*sides) * more)


def root_m(ready: Assembled) -> float:
    """Return how far from the centreline the wing's root lies [m]; geometry."""
    return min(0.001 * x.root_right_mm for x in ready.aeroplane.surfaces_as("wing"))


def stated_bending(ready: Assembled) -> float:
    """Return `limit_bending` [N m] at the weight of the aeroplane's first set-up."""
    aeroplane = ready.aeroplane
    first = weigh_set_up(aeroplane, resolve_setup(aeroplane, aeroplane.first_setup))
    return limit_bending(ready, first.mass_kg)


def limit_bending(ready: Assembled, mass_kg: float) -> float:
    """Return the root's bending moment at the stated limit load factor [N m].

    Own definition, as a file states a load factor and no moment: what the root carries in level
    flight of this set-up, flap up, nominal, per newton of the whole force upwards, times the
    stated load factor and the weight of the aeroplane that it is stated for.
    """
    if ready.setup.flap_deg != 0.0:  # a flap moves lift inboard: no measure of what is stated
        ready = assemble(ready.aeroplane, ready.setup.model_copy(update={"flap_deg": 0.0}))
    speed = tables.study().cruise_over_stall * ready.stall.speed_mps
    trim = level(ready, speed)
    row = np.zeros((1, s.N_HISTORY))
    row[0, s.H_SPEED], row[0, s.H_ALPHA] = speed, radians(trim.alpha_deg)
    row[0, s.H_THROTTLE] = trim.throttle
    for i, servo in enumerate(ready.model.servos[: s.KEPT_SERVOS]):
        row[0, s.H_SERVO + i] = command_angle(servo, trim.elevator_stick, 0.0, 0.0)
    flow = flow_at(ready.model, row)
    carried = float(root_bending(ready, flow)[0] / abs(flow.force_up[0]))
    return ready.aeroplane.structure.max_load_factor_g * mass_kg * STANDARD_GRAVITY * carried
