"""Forces on the fuselage: slender-body potential term, cross-flow drag, forebody vortex.

Source of the first two: H. J. Allen and E. W. Perkins, NACA Report 1048 [allen1951].
The potential term is written with the velocity components, rho u v_c dA/dx, which is
q sin(2 alpha) dA/dx for a round body. The side force of a box whose flat side lies nearly
along the cross-flow: body_side_force.csv.
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
    B_PUSH,
    B_PUSH_FALL,
    B_PUSH_TAIL,
    B_PUSH_TOP,
    B_X,
    B_Y,
    B_Z,
    BP_ASYMMETRY,
    BP_BOAT_TAIL,
    BP_CROSS_FACTOR,
    BP_DRAG_AREA,
    BP_MUNK_FACTOR,
    BP_PUSH_FACTOR,
    BP_Y,
    BP_Z,
    L_FX,
    L_FY,
    L_FZ,
    L_MX,
    L_MY,
    L_MZ,
)


@kernel(inlined=True)
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

    ``rho`` [kg/m3], loads [N, N m]. Source: [allen1951] for the potential term and the
    cross-flow's drag; the lopsided vortices' force is own, q sin(2 alpha)^2 on the nose, as it
    must be none along the flow and across it; the push of a flat side from body_side_force.csv.
    """
    cross = 0.5 * rho * par[BP_CROSS_FACTOR]
    push_cross = cross * par[BP_PUSH_FACTOR]
    munk = rho * par[BP_MUNK_FACTOR]
    tail = par[BP_BOAT_TAIL]
    lopsided = par[BP_ASYMMETRY] * 0.5 * rho
    force_y, force_z = 0.0, 0.0
    mx, my, mz = 0.0, 0.0, 0.0
    # sums in local variables and no branches: the compiler takes several strips at once
    for i in range(bodies.shape[1]):
        rx = bodies[B_X, i]
        ry = bodies[B_Y, i]
        rz = bodies[B_Z, i]
        vx = u + q * rz - r * ry
        vy = v + r * rx - p * rz
        vz = w + p * ry - q * rx
        vc2 = vy * vy + vz * vz
        vc = sqrt(vc2)
        total = sqrt(vx * vx + vc2) + 1e-9
        share = abs(vx) / total
        # cos(alpha/2) of Allen and Perkins, folded for reversed flow
        potential = munk * vx * sqrt(0.5 * (1.0 + share))
        side = potential * bodies[B_DA_SIDE, i]
        face = potential * bodies[B_DA_FACE, i]
        side *= tail if side < 0.0 else 1.0
        face *= tail if face < 0.0 else 1.0
        # lopsided vortices, q sin(2 alpha)^2: none along the flow or across it
        twice = 2.0 * share * vc if vx > 0.0 else 0.0
        fy = lopsided * twice * twice * bodies[B_NOSE, i] - side * vy
        fy -= cross * vc * vy * bodies[B_CD_SIDE, i] * bodies[B_AREA_SIDE, i]
        # flow that lies along a flat side draws it with the motion: rises, falls, stays
        sine = abs(vy) / (vc + 1e-9)
        late = bodies[B_PUSH_TOP, i] - bodies[B_PUSH_FALL, i] * sine
        late = max(late, bodies[B_PUSH_TAIL, i] * (1.0 - sine))
        push = push_cross * vc2 * min(bodies[B_PUSH, i] * sine, late) * bodies[B_AREA_SIDE, i]
        fy += push if vy > 0.0 else -push
        fz = -face * vz - cross * vc * vz * bodies[B_CD_FACE, i] * bodies[B_AREA_FACE, i]
        force_y += fy
        force_z += fz
        mx += ry * fz - rz * fy
        my -= rx * fz
        mz += rx * fy
    drag = -0.5 * rho * par[BP_DRAG_AREA] * u * abs(u)
    loads[L_FX] += drag
    loads[L_FY] += force_y
    loads[L_FZ] += force_z
    loads[L_MX] += mx
    loads[L_MY] += my + par[BP_Z] * drag
    loads[L_MZ] += mz - par[BP_Y] * drag
