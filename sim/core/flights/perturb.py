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
    D_SIDEWASH,
    D_SLIP_STALL,
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
    E_WIND_E,
    E_WIND_N,
    F_K0,
    F_K1,
    F_SHEET,
    F_SIDE,
    F_WASH_GAIN,
    F_WASH_STALLED,
    M_INERTIA,
    M_INVERSE,
    M_MASS,
    N_ERRORS,
    N_NODES,
    P_DELAY,
    S_CARRIED,
    S_DELAY,
    S_FORCE,
    S_HELP,
    S_RELAX,
    S_RX,
    S_RY,
    S_RZ,
    S_SLIP_STALL,
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
    Y_DRAWN,
    Y_SHAPE,
    Model,
)
from sim.core.loads.lookup import G0, X0, attached_share
from sim.core.loads.thrust import U_EXIT_X, U_INLET_X


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
def spread_inertia(mass, factor, spread, out):
    """Fill ``out`` with mass properties scaled by factors on the mass and on its spread.

    Scaling the second moments of mass along each axis, instead of one moment of inertia,
    keeps the triangle inequalities by construction.

    Parameters
    ----------
    mass, out : float array (N_MASS,)
    factor : float
        On all of the mass.
    spread : float array (3,)
        On the second moments along x, y and z.
    """
    out[M_MASS] = mass[M_MASS] * factor
    k = M_INERTIA
    half = 0.5 * (mass[k] + mass[k + 4] + mass[k + 8])
    moments = np.zeros((3, 3))
    for i in range(3):
        for j in range(3):
            moments[i, j] = -mass[k + 3 * i + j]
        moments[i, i] += half
    for i in range(3):
        for j in range(3):
            moments[i, j] *= factor * np.sqrt(spread[i] * spread[j])
    trace = moments[0, 0] + moments[1, 1] + moments[2, 2]
    for i in range(3):
        for j in range(3):
            out[k + 3 * i + j] = -moments[i, j]
        out[k + 4 * i] += trace
    invert_inertia(out)


@kernel
def invert_inertia(mass):
    """Fill the inverse-inertia part of ``mass`` (N_MASS,) from its inertia part."""
    k = M_INERTIA
    a, b, c = mass[k], mass[k + 1], mass[k + 2]
    d, e, f = mass[k + 3], mass[k + 4], mass[k + 5]
    g, h, i = mass[k + 6], mass[k + 7], mass[k + 8]
    det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    m = M_INVERSE
    mass[m] = (e * i - f * h) / det
    mass[m + 1] = (c * h - b * i) / det
    mass[m + 2] = (b * f - c * e) / det
    mass[m + 3] = (f * g - d * i) / det
    mass[m + 4] = (a * i - c * g) / det
    mass[m + 5] = (c * d - a * f) / det
    mass[m + 6] = (d * h - e * g) / det
    mass[m + 7] = (b * g - a * h) / det
    mass[m + 8] = (a * e - b * d) / det


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
        new.strips[S_SLIP_STALL, i] *= 1.0 + draw[D_SLIP_STALL]
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
        new.sources[i, W_DEPTH] = min(0.97, max(0.0, depth))
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
    new.env[E_WIND_N] = -abs(draw[D_WIND]) * 0.8
    new.env[E_WIND_E] = draw[D_WIND] * 0.6
    new.env[E_TURBULENCE] = abs(draw[D_TURBULENCE])
    new.env[E_SEED] = 1.0 + abs(draw[D_TURBULENCE]) * 1e8
    for i in range(N_ERRORS):
        for j in range(N_NODES * i, N_NODES * (i + 1)):
            new.errors[Y_DRAWN + j] = draw[D_ERRORS + i] * new.errors[Y_SHAPE + j]
    new.pilot[P_DELAY] = max(0.0, model.pilot[P_DELAY] + draw[D_PILOT_DELAY])
    return new
