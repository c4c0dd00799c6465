"""One draw put into a model: what is not exactly known about a home-built aeroplane.

A draw is a vector of offsets in physical units (factors as offsets from 1); see
`sim.core.draw_layout` for its columns.
"""

import numpy as np

from sim.core import kernel
from sim.core.draw_layout import (
    D_BALANCE_AFT,
    D_BALANCE_RIGHT,
    D_BALANCE_UP,
    D_CARRY_OVER,
    D_CROSS_FLOW,
    D_DOWNWASH,
    D_ERRORS,
    D_FIN_RIG,
    D_FOREBODY,
    D_HELP,
    D_LAG,
    D_LINKAGE,
    D_MASS,
    D_MUNK,
    D_PILOT_DELAY,
    D_PUSH,
    D_RELAX,
    D_SERVO_RATE,
    D_SIDESLIP_STALL,
    D_SIDEWASH,
    D_SPREAD_X,
    D_SPREAD_Y,
    D_SPREAD_Z,
    D_STALLED_WASH,
    D_THROW,
    D_THRUST,
    D_TURBULENCE,
    D_WAKE_ANGLE,
    D_WAKE_DEPTH,
    D_WIND,
    D_WING_RIG,
    N_TABLE_ENDS,
    ROLE_DRAWS,
    ROLE_FIN,
    ROLE_WING,
    TABLE_DRAWS,
)
from sim.core.error_layout import N_ERRORS, N_NODES, Y_DRAWN, Y_SHAPE
from sim.core.flights.inertia import spread_inertia
from sim.core.layout import (
    B_X,
    B_Y,
    B_Z,
    BP_ASYMMETRY,
    BP_CROSS_FACTOR,
    BP_MUNK_FACTOR,
    BP_PUSH_FACTOR,
    BP_X,
    BP_Y,
    BP_Z,
    E_SEED,
    E_THRUST_FACTOR,
    E_TURBULENCE,
    E_WIND_CROSS,
    E_WIND_E,
    E_WIND_HEAD,
    E_WIND_N,
    F_K0,
    F_K1,
    F_SHEET,
    F_SIDE,
    F_WASH_GAIN,
    F_WASH_STALLED,
    P_DELAY,
    S_CARRIED,
    S_DELAY,
    S_FORCE,
    S_HELP,
    S_RELAX,
    S_RX,
    S_RY,
    S_RZ,
    S_SIDESLIP_STALL,
    S_TWIST,
    SI_SURFACE,
    V_NEGATIVE,
    V_OFFSET,
    V_POSITIVE,
    V_RATE,
    W_DEPTH,
    W_TAN,
    W_X_LE0,
    W_X_LE1,
    W_X_TE0,
    W_X_TE1,
    W_Z,
    Model,
)
from sim.core.loads.lookup import G0, X0, attached_share
from sim.core.loads.thrust import U_EXIT_X, U_INLET_X

SEEDS = 1e8  # seeds per m/s of gusts: only tells draws apart
MOST_WAKE_DEPTH = 0.97  # numerical only: some air is always left, as its root is taken


@kernel
def drawn_tables(tables, ends, shares, out):
    """Fill ``out`` with tables moved towards their lower or upper ends.

    Parameters
    ----------
    tables, out : float array (t, N_S, 8)
    ends : float array (2 k, t, N_S, 8)
        Lower and upper end of each of k parameters.
    shares : float array (k,)
        -1 is the lower end, +1 the upper; linear in between, so never outside.

    Coefficients, without unit. Own: linear between nominal and end, so a draw never leaves what
    the ends say.
    """
    for i in range(tables.shape[0]):
        for n in range(tables.shape[1]):
            for c in range(8):
                base = tables[i, n, c]
                value = base
                for k in range(shares.size):
                    side = 2 * k + (1 if shares[k] > 0.0 else 0)
                    value += abs(shares[k]) * (ends[side, i, n, c] - base)
                out[i, n, c] = value
            out[i, n, X0] = min(1.0, max(0.0, out[i, n, X0]))
            out[i, n, G0] = attached_share(out[i, n, X0])


@kernel
def moved(model, dx, dy, dz):
    """Shift the origin of all positions by (dx, dy, dz) [m], in place.

    Used to set them relative to the balance point.
    """
    for i in range(model.strips.shape[1]):
        model.strips[S_RX, i] -= dx
        model.strips[S_RY, i] -= dy
        model.strips[S_RZ, i] -= dz
    for i in range(model.bodies.shape[1]):
        model.bodies[B_X, i] -= dx
        model.bodies[B_Y, i] -= dy
        model.bodies[B_Z, i] -= dz
    model.body_par[BP_X] -= dx
    model.body_par[BP_Y] -= dy
    model.body_par[BP_Z] -= dz
    for i in range(model.units.shape[0]):
        for k in (U_INLET_X, U_EXIT_X):
            model.units[i, k] -= dx
            model.units[i, k + 1] -= dy
            model.units[i, k + 2] -= dz
    for i in range(model.sources.shape[0]):
        model.sources[i, W_Z] -= dz
        for k in (W_X_LE0, W_X_TE0, W_X_LE1, W_X_TE1):
            model.sources[i, k] -= dx


@kernel
def copied(model):
    """Return a model whose drawn arrays are copies; what no draw touches is shared."""
    return Model(
        strips=model.strips.copy(),
        strip_index=model.strip_index,
        tables=model.tables.copy(),
        table_ends=model.table_ends,
        surfaces=model.surfaces.copy(),
        pairs=model.pairs,
        sources=model.sources.copy(),
        bodies=model.bodies.copy(),
        body_par=model.body_par.copy(),
        units=model.units.copy(),
        prop_table=model.prop_table,
        pack=model.pack,
        servos=model.servos.copy(),
        gyro=model.gyro,
        mass=model.mass.copy(),
        env=model.env.copy(),
        pilot=model.pilot.copy(),
        errors=model.errors.copy(),
    )


@kernel
def perturbed(model, roles, draw):
    """Return the model as one draw has it.

    Parameters
    ----------
    model : Model
        Nominal, positions relative to the nominal balance point.
    roles : int array (m,)
        ROLE_WING, ROLE_TAIL or ROLE_FIN of each surface.
    draw : float array (N_DRAW,)
        Offsets in physical units; zeros give the nominal model.

    Draws in the units of uncertainty.toml: shares, m, rad, m/s, s. Own: how each enters; the
    reasons stand in uncertainty.toml.
    """
    new = copied(model)
    shares = np.zeros(N_TABLE_ENDS)
    for k in range(N_TABLE_ENDS):
        shares[k] = draw[TABLE_DRAWS[k]]
    drawn_tables(model.tables, model.table_ends, shares, new.tables)
    for i in range(new.strips.shape[1]):
        role = roles[new.strip_index[SI_SURFACE, i]]
        new.strips[S_FORCE, i] *= 1.0 + draw[ROLE_DRAWS[role]]
        new.strips[S_FORCE, i] *= max(0.0, 1.0 + draw[D_CARRY_OVER] * new.strips[S_CARRIED, i])
        new.strips[S_DELAY, i] *= 1.0 + draw[D_LAG]
        new.strips[S_RELAX, i] *= (1.0 + draw[D_LAG]) * (1.0 + draw[D_RELAX])
        new.strips[S_SIDESLIP_STALL, i] *= 1.0 + draw[D_SIDESLIP_STALL]
        new.strips[S_HELP, i] *= 1.0 + draw[D_HELP]
        if role == ROLE_WING:
            # one panel's incidence differs from the other's
            new.strips[S_TWIST, i] += 0.5 * draw[D_WING_RIG] * np.sign(new.strips[S_RY, i])
        if role == ROLE_FIN:
            new.strips[S_TWIST, i] += draw[D_FIN_RIG]
    for j in range(new.surfaces.shape[0]):
        role = roles[j]
        # the loading that the gain multiplies has no factor on forces in it
        new.surfaces[j, F_WASH_GAIN] *= (1.0 + draw[D_DOWNWASH]) * (1.0 + draw[ROLE_DRAWS[role]])
        new.surfaces[j, F_WASH_STALLED] *= 1.0 + draw[D_STALLED_WASH]
        new.surfaces[j, F_SIDE] *= max(0.0, 1.0 + draw[D_SIDEWASH])
        new.surfaces[j, F_SHEET] *= max(0.0, 1.0 + draw[D_SIDEWASH])
        new.surfaces[j, F_K0] *= 1.0 + draw[ROLE_DRAWS[role]]
        new.surfaces[j, F_K1] *= 1.0 + draw[ROLE_DRAWS[role]]
    for i in range(new.sources.shape[0]):
        depth = new.sources[i, W_DEPTH] * (1.0 + draw[D_WAKE_DEPTH])
        new.sources[i, W_DEPTH] = min(MOST_WAKE_DEPTH, max(0.0, depth))
        new.sources[i, W_TAN] *= 1.0 + draw[D_WAKE_ANGLE]
    new.body_par[BP_CROSS_FACTOR] *= 1.0 + draw[D_CROSS_FLOW]
    new.body_par[BP_PUSH_FACTOR] *= 1.0 + draw[D_PUSH]
    new.body_par[BP_MUNK_FACTOR] *= 1.0 + draw[D_MUNK]
    new.body_par[BP_ASYMMETRY] += draw[D_FOREBODY]
    spread = np.array([1.0 + draw[D_SPREAD_X], 1.0 + draw[D_SPREAD_Y], 1.0 + draw[D_SPREAD_Z]])
    spread_inertia(model.mass, 1.0 + draw[D_MASS], spread, new.mass)
    moved(new, -draw[D_BALANCE_AFT], draw[D_BALANCE_RIGHT], -draw[D_BALANCE_UP])
    for i in range(new.servos.shape[0]):
        new.servos[i, V_POSITIVE] *= 1.0 + draw[D_THROW]
        new.servos[i, V_NEGATIVE] *= 1.0 + draw[D_THROW]
        new.servos[i, V_RATE] *= 1.0 + draw[D_SERVO_RATE]
        # a linkage set a little off: alternate channels (right and left) the other way
        new.servos[i, V_OFFSET] += draw[D_LINKAGE] * (1.0 if i % 2 == 0 else -1.0)
    new.env[E_THRUST_FACTOR] *= 1.0 + draw[D_THRUST]
    new.env[E_WIND_N] = -abs(draw[D_WIND]) * new.env[E_WIND_HEAD]
    new.env[E_WIND_E] = draw[D_WIND] * new.env[E_WIND_CROSS]
    new.env[E_TURBULENCE] = abs(draw[D_TURBULENCE])
    new.env[E_SEED] = 1.0 + abs(draw[D_TURBULENCE]) * SEEDS
    for i in range(N_ERRORS):
        for j in range(N_NODES * i, N_NODES * (i + 1)):
            new.errors[Y_DRAWN + j] = draw[D_ERRORS + i] * new.errors[Y_SHAPE + j]
    new.pilot[P_DELAY] = max(0.0, model.pilot[P_DELAY] + draw[D_PILOT_DELAY])
    return new
