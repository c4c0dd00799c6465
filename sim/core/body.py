"""Forces on the fuselage: slender-body potential term, cross-flow drag, forebody vortex.

Source of the first two: H. J. Allen and E. W. Perkins, NACA Report 1048 [allen1951].
The potential term is written with the velocity components, rho u v_c dA/dx, which is
q sin(2 alpha) dA/dx for a round body.
"""

from math import sqrt

from sim.core import kernel
from sim.core.layout import (
    B_AREA_FACE,
    B_AREA_SIDE,
    B_CD_FACE,
    B_CD_SIDE,
    B_DA_FACE,
    B_DA_SIDE,
    B_NOSE,
    B_X,
    B_Y,
    B_Z,
    BP_ASYMMETRY,
    BP_BOAT_TAIL,
    BP_CROSS_FACTOR,
    BP_DRAG_AREA,
    BP_MUNK_FACTOR,
    BP_SIDE_FACTOR,
    BP_Y,
    BP_Z,
)


@kernel
def body_loads(u, v, w, p, q, r, rho, bodies, par, loads):
    """Add the body's force and moment about the balance point to ``loads`` (6,).

    Parameters
    ----------
    u, v, w, p, q, r : float
        Air-relative velocity [m/s] and rates [rad/s], body axes.
    bodies : float array (N_BODY_ROWS, b)
        Body strips, nose first.
    par : float array (N_BODY_PAR,)
        Drag area, its place, and the factors drawn for each flight.
    """
    cross = 0.5 * rho * par[BP_CROSS_FACTOR]
    munk = rho * par[BP_MUNK_FACTOR]
    for i in range(bodies.shape[1]):
        rx = bodies[B_X, i]
        ry = bodies[B_Y, i]
        rz = bodies[B_Z, i]
        vx = u + q * rz - r * ry
        vy = v + r * rx - p * rz
        vz = w + p * ry - q * rx
        vc = sqrt(vy * vy + vz * vz)
        total = sqrt(vx * vx + vc * vc) + 1e-9
        # cos(alpha/2) of Allen and Perkins, folded for reversed flow
        half = sqrt(0.5 * (1.0 + abs(vx) / total))
        side = munk * vx * half * bodies[B_DA_SIDE, i]
        face = munk * vx * half * bodies[B_DA_FACE, i]
        if side < 0.0:
            side *= par[BP_BOAT_TAIL]
        if face < 0.0:
            face *= par[BP_BOAT_TAIL]
        fy = -side * vy
        fz = -face * vz
        fy -= (
            cross * par[BP_SIDE_FACTOR] * vc * vy * bodies[B_CD_SIDE, i] * bodies[B_AREA_SIDE, i]
        )
        fz -= cross * vc * vz * bodies[B_CD_FACE, i] * bodies[B_AREA_FACE, i]
        if vx > 0.0:
            # lopsided vortices: none along the flow or across it, most in between
            twice = 2.0 * vx * vc / (total * total)
            fy += par[BP_ASYMMETRY] * 0.5 * rho * total * total * twice * twice * bodies[B_NOSE, i]
        loads[1] += fy
        loads[2] += fz
        loads[3] += ry * fz - rz * fy
        loads[4] += -rx * fz
        loads[5] += rx * fy
    drag = -0.5 * rho * par[BP_DRAG_AREA] * u * abs(u)
    loads[0] += drag
    loads[4] += par[BP_Z] * drag
    loads[5] -= par[BP_Y] * drag
