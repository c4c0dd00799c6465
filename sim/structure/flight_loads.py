"""What one flight asked of its servos and its wing."""

from dataclasses import dataclass
from math import radians

import numpy as np

from sim import tables
from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.draw_layout import ROLE_WING
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.core.pilot.control import command_angle
from sim.describe import resolve_setup
from sim.fly.columns import Floats
from sim.fly.flying import Flight
from sim.pack.assemble import Assembled, assemble
from sim.structure.hinge_moments import hinge_moments
from sim.structure.strip_flow import StripFlow, flow_at, strip_flow
from sim.trim.trimming import level
from sim.weigh import weigh_set_up

SMALL_SHARE = 0.5  # numerical only: a load that settled flow tells less of is no scale


@dataclass(frozen=True)
class ServoLoad:
    """The most that one servo had to give in a flight, and where.

    ``stated_nm`` is None where the file states no torque. ``stalled`` True where the surface's own
    flow had mostly let go. ``beyond_s`` is for how long the air asked for more than was stated;
    ``held_s`` for how long blow-back, as flown, held the surface short of the sticks, by at most
    ``short_rad``.
    """

    channel: str
    side: float
    stated_nm: float | None
    needed_nm: float
    speed_mps: float
    alpha: float
    deflection: float
    stalled: bool
    beyond_s: float
    held_s: float
    short_rad: float


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
    flow = strip_flow(flight, every)
    moments = hinge_moments(flight.assembled, flow)
    peak = int(np.abs(h[:, s.H_LOAD]).argmax())
    return FlightLoads(
        servos=tuple(_servos(flight, flow, moments, every * tick)),
        load_g=float(h[peak, s.H_LOAD]),
        speed_mps=float(h[:, s.H_SPEED].max()),
        bending_nm=float(root_bending(flight.assembled, flow).max()),
        stage=int(h[peak, s.H_STAGE]),
    )


def _servos(flight: Flight, flow: StripFlow, moments: Floats, step_s: float) -> list[ServoLoad]:
    ready, out = flight.assembled, []
    wished = _wished(flow)
    pressure = 0.5 * flow.density * flow.rows[:, s.H_SPEED] ** 2
    for (name, side), i in ready.aero.channels.items():
        if i >= s.N_HISTORY - s.H_SERVO:
            continue  # histories keep no more
        stated = ready.aeroplane.servo_types[ready.aeroplane.channels[name].servo].torque_ncm
        at = int(np.abs(moments[:, i]).argmax())
        row = flow.rows[at]
        mine = flow.model.strip_index[k.SI_CHANNEL] == i
        short = _short(flow, i, wished[:, i], pressure)
        torque = None if stated is None else 0.01 * stated
        beyond = 0 if torque is None else int((np.abs(moments[:, i]) > torque).sum())
        out.append(
            ServoLoad(
                channel=name,
                side=side,
                stated_nm=torque,
                needed_nm=float(abs(moments[at, i])),
                speed_mps=float(row[s.H_SPEED]),
                alpha=float(row[s.H_ALPHA]),
                deflection=float(row[s.H_SERVO + i]),
                stalled=bool(flow.gone[at, mine].mean() > 0.5),
                beyond_s=beyond * step_s,
                held_s=float((short > 0.0).sum()) * step_s,
                short_rad=float(short.max()),
            )
        )
    return out


def _wished(flow: StripFlow) -> Floats:
    """Return where the sticks want each servo (t, c) [rad].

    Own: the trim is where it stood at the start beyond what the sticks asked for there. Expo and
    what a gyro adds are left out: they only soften what the sticks ask at their ends.
    """
    sticks = flow.rows[:, [s.H_ELEVATOR, s.H_AILERON, s.H_RUDDER]]
    out = np.array([[command_angle(servo, *x) for servo in flow.model.servos] for x in sticks])
    kept = min(out.shape[1], s.N_HISTORY - s.H_SERVO)
    out[:, :kept] += flow.rows[0, s.H_SERVO : s.H_SERVO + kept] - out[0, :kept]
    return out


def _short(flow: StripFlow, i: int, wished: Floats, pressure: Floats) -> Floats:
    """Return by how much blow-back as flown held a servo short of the sticks (t,) [rad].

    ``pressure`` (t,) is the dynamic one [Pa].

    Own: it stands at what `core.pilot.control.servo_targets` leaves it.
    """
    rows, servo = flow.rows, flow.model.servos[i]
    most = servo[k.V_BLOWBACK] / np.maximum(pressure, 1.0)
    stands = np.abs(rows[:, s.H_SERVO + i])
    wish = np.clip(wished, servo[k.V_MIN], servo[k.V_MAX])
    held = (stands >= tables.servo_loads().held_share * most) & (np.abs(wish) > most)
    return np.where(held, np.abs(wish) - most, 0.0)


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
    for i, servo in enumerate(ready.model.servos[: s.N_HISTORY - s.H_SERVO]):
        row[0, s.H_SERVO + i] = command_angle(servo, trim.elevator_stick, 0.0, 0.0)
    flow = flow_at(ready.model, row)
    carried = float(root_bending(ready, flow)[0] / abs(flow.force_up[0]))
    return ready.aeroplane.structure.max_load_factor_g * mass_kg * STANDARD_GRAVITY * carried
