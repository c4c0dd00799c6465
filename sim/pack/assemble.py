"""Everything packed: from an aeroplane and a set-up to the kernel's model."""

from dataclasses import dataclass, field, replace
from functools import lru_cache
from math import radians, sqrt

import numpy as np

from sim import tables
from sim.aero.build import AeroArrays, build_aero
from sim.aero.lowered_flap import with_flap_drag
from sim.core import error_layout as e
from sim.core import layout as k
from sim.core.flights.inertia import invert_inertia
from sim.core.flights.perturb import copied, moved
from sim.core.layout import Model
from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.describe import Aeroplane, SetUp, SetUpBlock, resolve_setup
from sim.pack.controls import gyro_array, pilot_array, servo_array
from sim.pack.errors import error_array
from sim.pack.field import field_density, warmth
from sim.pack.level_thrust import power_of
from sim.pack.power_fit import power_fit
from sim.pack.spreads import drawn_spreads, spreads_of, table_ends
from sim.pack.stalling import Stall, find_stall
from sim.power.bench_fit import PowerFit
from sim.power.packing import PowerArrays, pack_power
from sim.tables.models.uncertainty import Spread
from sim.weigh import Weighed, weigh_set_up

SEA_LEVEL_DENSITY = 1.225  # kg/m3 [ussa1976]
KEPT = 24  # set-ups, some 3 MB each


@dataclass(frozen=True)
class Assembled:
    """A set-up ready to fly.

    ``model`` has all positions relative to the nominal balance point; ``roles`` (m,) says
    what draws treat each surface as; ``stall`` holds the nominal stall.
    """

    aeroplane: Aeroplane
    setup: SetUp
    weighed: Weighed
    aero: AeroArrays
    model: Model
    roles: np.ndarray
    spreads: tuple[Spread, ...]
    stall: Stall

    @property
    def density(self) -> float:
        """Air density at the field [kg/m3]."""
        return field_density(self.aeroplane)

    @property
    def power(self) -> PowerArrays:
        """Fans or propellers and the pack, places from the nominal balance point [m]."""
        return power_of(self.model)


@dataclass(frozen=True)
class _Question:
    """A set-up that two questions are the same of if both say the same, by the same tables."""

    text: str
    read_from: tuple[object, ...]
    aeroplane: Aeroplane = field(compare=False)
    setup: SetUp = field(compare=False)


def environment(aeroplane: Aeroplane) -> np.ndarray:
    """Return the environment array (N_ENV,): still air at the field, the stall not known yet."""
    env = np.zeros(k.N_ENV)
    env[k.E_ELEVATION] = aeroplane.field.elevation_m
    env[k.E_WARMER] = warmth(aeroplane)
    env[k.E_THRUST_FACTOR] = 1.0
    env[k.E_GUST_LENGTH] = 1.0
    env[k.E_AIR] = 1.0
    wind = tables.uncertainty()
    env[k.E_WIND_HEAD], env[k.E_WIND_CROSS] = wind.wind_head_share, wind.wind_cross_share
    env[k.E_MOST_LAG] = radians(tables.strip_model().most_delay_deg)
    return env


def mass_array(weighed: Weighed) -> np.ndarray:
    """Return mass, inertia about the balance point, and its inverse (N_MASS,)."""
    out = np.zeros(k.N_MASS)
    out[k.M_MASS] = weighed.mass_kg
    out[k.M_INERTIA : k.M_INERTIA + 9] = weighed.inertia_kg_m2.ravel()
    invert_inertia(out)
    return out


def reference_speed(mass_kg: float, area_m2: float) -> float:
    """Return the airspeed for the sections' Reynolds numbers [m/s].

    Own: sections know one Reynolds number, so one speed; a multiple (strip_model.toml) of that
    at which a lift coefficient of one carries the weight at sea level.
    """
    factor = tables.strip_model().reference_speed_factor
    return factor * sqrt(2.0 * mass_kg * STANDARD_GRAVITY / (SEA_LEVEL_DENSITY * area_m2))


def assemble(aeroplane: Aeroplane, setup: SetUp | SetUpBlock | str | None = None) -> Assembled:
    """Weigh a set-up, build its aerodynamics and power, and pack everything [m, kg, s, rad].

    Parameters
    ----------
    aeroplane : Aeroplane
        What was measured of its power counts: see `power_fit_of`.
    setup : SetUp, SetUpBlock, str or None
        None is the aeroplane's first.

    Raises
    ------
    FileFault
        The set-up cannot be had: a pack is missing, or a balance point out of reach; or a
        measurement cannot be.
    """
    return _packed(power_fit_of(aeroplane).aeroplane, setup)


def flown_spreads(aeroplane: Aeroplane) -> tuple[Spread, ...]:
    """Return the spreads that flights are drawn with; see `spreads.drawn_spreads`.

    Raises
    ------
    FileFault
        ``[uncertainty]`` names something that is not in the table, or a measurement cannot be.
    """
    return drawn_spreads(power_fit_of(aeroplane).aeroplane)


def power_fit_of(aeroplane: Aeroplane) -> PowerFit:
    """Return the aeroplane with its power fitted to what was measured of it, once for all.

    Raises
    ------
    FileFault
        A measurement cannot be.
    """
    return power_fit(aeroplane, _packed)


def _packed(aeroplane: Aeroplane, setup: SetUp | SetUpBlock | str | None) -> Assembled:
    """Return a set-up ready to fly, its constants as they stand in the file [m, kg, s, rad].

    Kept for the next time it is asked; what a draw would move is the asker's own.
    """
    resolved = setup if isinstance(setup, SetUp) else resolve_setup(aeroplane, setup)
    kept = _kept(_Question(repr((aeroplane, resolved)), _tables(), aeroplane, resolved))
    return replace(kept, aeroplane=aeroplane, setup=resolved, model=copied(kept.model))


def _tables() -> tuple[object, ...]:
    """Return what the tables are read by."""
    return tuple(read for read in vars(tables).values() if callable(read))


@lru_cache(maxsize=KEPT)
def _kept(question: "_Question") -> Assembled:
    """Return a set-up ready to fly [m, kg, s, rad], built anew."""
    aeroplane, resolved = question.aeroplane, question.setup
    weighed = weigh_set_up(aeroplane, resolved)
    spreads = spreads_of(aeroplane)
    area = weighed.reference.area_m2
    aero = build_aero(
        aeroplane, resolved.throws, reference_speed(weighed.mass_kg, area), table_ends(spreads),
        area, resolved.sticks,
    )  # fmt: skip
    aero = with_flap_drag(aero, aeroplane, resolved.flap_deg)
    power = pack_power(aeroplane, resolved)
    servos = servo_array(aeroplane, resolved, aero.channels)
    shared = Model(
        strips=aero.strips,
        strip_index=aero.strip_index,
        tables=aero.tables,
        table_ends=aero.table_ends,
        surfaces=aero.surfaces,
        pairs=aero.pairs,
        sources=aero.sources,
        bodies=aero.bodies,
        body_par=aero.body_par,
        units=power.units,
        prop_table=power.prop_table,
        pack=power.pack,
        servos=servos,
        gyro=gyro_array(resolved),
        mass=mass_array(weighed),
        env=environment(aeroplane),
        pilot=np.zeros(k.N_PILOT),
        errors=np.zeros(e.Y_SERVO + e.N_SERVO_EFFECTS * servos.shape[0]),
    )
    model = copied(shared)
    moved(model, *(float(c) for c in weighed.balance_m))
    stall = find_stall(model, area, weighed.mass_kg)
    model.env[k.E_STALL_SPEED] = stall.speed_mps
    model.env[k.E_STALL_ALPHA] = stall.alpha
    model.env[k.E_STALL_INVERTED] = stall.inverted
    errors = error_array(model, aero.roles, weighed.reference, field_density(aeroplane))
    model = model._replace(pilot=pilot_array(aeroplane, stall), errors=errors)
    return Assembled(
        aeroplane=aeroplane,
        setup=resolved,
        weighed=weighed,
        aero=aero,
        model=model,
        roles=aero.roles,
        spreads=spreads,
        stall=stall,
    )
