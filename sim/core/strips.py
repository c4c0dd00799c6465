"""Forces on the strips of wings, tails, fins and strakes.

Each strip sees its own air (motion of the balance point, rotation, downwash, induced
angle, slipstream), looks up its coefficients over the whole circle, and pushes along
axes that turn with its moving part. Sums go to ``loads``; rates of the lag states to
``out``.
"""

from math import sqrt

from sim.core import kernel
from sim.core.layout import (
    F_AREA,
    F_AREA_ETA2,
    F_K0,
    F_K1,
    F_RATE_MAX,
    F_SPAN,
    F_SPANS,
    F_WASH_ARM,
    F_WASH_GAIN,
    S_AREA,
    S_CHORD,
    S_CX,
    S_CY,
    S_CZ,
    S_DCM,
    S_ETA,
    S_FORCE,
    S_FRAC,
    S_INDUCED,
    S_LAG,
    S_NX,
    S_NY,
    S_NZ,
    S_RX,
    S_RY,
    S_RZ,
    S_SLIP,
    S_TAU,
    S_TWIST,
    S_WASH,
    SI_CHANNEL,
    SI_SURFACE,
    SI_TABLE,
    X_SERVO,
)
from sim.core.lookup import CC, CM, CN, DCC, DCM, DCN, G0, N_S, NODES_PER_UNIT, S_FIRST, X0

SLOWEST = 0.5  # m/s; below it the lags run as at this speed


@kernel
def _turn(a, b, angle):
    """Return (a, b) turned by a small angle; series good to 1e-5 at 0.7 rad."""
    t2 = angle * angle
    c = 1.0 - t2 * (0.5 - t2 * (1.0 / 24.0 - t2 / 720.0))
    s = angle * (1.0 - t2 * (1.0 / 6.0 - t2 * (1.0 / 120.0 - t2 / 5040.0)))
    return a * c - b * s, b * c + a * s


@kernel
def strip_loads(
    x, air, rho, slip, strips, index, tables, surfaces, o_induced, o_wash, o_x, wake, steady, sums,
    loads, out,
):  # fmt: skip
    """Add the strips' force and moment to ``loads`` and fill their lag rates in ``out``.

    Parameters
    ----------
    x : float array
        State vector; ``air`` (6,) holds air-relative u, v, w and p, q, r.
    rho, slip : float
        Air density [kg/m3] and slipstream speed [m/s].
    wake : float array (n,)
        Share of the dynamic pressure left to each strip.
    steady : bool
        True: fill ``out`` with target minus state instead of a rate.
    sums : float array (m, 2)
        Scratch for each surface's mean and linear loading.
    """
    u, v, w = air[0], air[1], air[2]
    p, q, r = air[3], air[4], air[5]
    speed = sqrt(u * u + v * v + w * w)
    inverse_v2 = 1.0 / max(speed * speed, SLOWEST * SLOWEST)
    fx = 0.0
    fy = 0.0
    fz = 0.0
    mx = 0.0
    my = 0.0
    mz = 0.0
    for j in range(surfaces.shape[0]):
        sums[j, 0] = 0.0
        sums[j, 1] = 0.0
    wash = 0.0
    for j in range(surfaces.shape[0]):
        wash += x[o_wash + j]
    for i in range(strips.shape[1]):
        rx = strips[S_RX, i]
        ry = strips[S_RY, i]
        rz = strips[S_RZ, i]
        vx = u + q * rz - r * ry + slip * strips[S_SLIP, i]
        vy = v + r * rx - p * rz
        vz = w + p * ry - q * rx
        cx = strips[S_CX, i]
        cy = strips[S_CY, i]
        cz = strips[S_CZ, i]
        nx = strips[S_NX, i]
        ny = strips[S_NY, i]
        nz = strips[S_NZ, i]
        j = index[SI_SURFACE, i]
        eta = strips[S_ETA, i]
        ahead = max(vx, 0.0)
        a = vx * cx + vy * cy + vz * cz
        b = -(vx * nx + vy * ny + vz * nz)
        b -= ahead * (
            strips[S_INDUCED, i] * (x[o_induced + 2 * j] + eta * x[o_induced + 2 * j + 1])
            + wash * strips[S_WASH, i]
        )
        channel = index[SI_CHANNEL, i]
        state = x[o_x + i]
        attached = min(1.0, max(0.0, state))
        turned = 0.0
        turn_air = strips[S_TWIST, i]
        bend = 0.0
        if channel >= 0:
            delta = x[X_SERVO + channel]
            turned = strips[S_FRAC, i] * delta
            turn_air += turned + attached * (strips[S_TAU, i] - strips[S_FRAC, i]) * delta
            bend = attached * strips[S_DCM, i] * delta
        a, b = _turn(a, b, turn_air)
        v2 = a * a + b * b
        size = abs(a) + abs(b) + 1e-9
        s = b / size
        if a < 0.0:
            s = (2.0 - s) if b >= 0.0 else (-2.0 - s)
        place = (s - S_FIRST) * NODES_PER_UNIT
        k = min(N_S - 2, max(0, int(place)))
        f = place - k
        t0 = tables[index[SI_TABLE, i], k]
        t1 = tables[index[SI_TABLE, i], k + 1]
        root = 0.5 * (1.0 + sqrt(attached))
        excess = (root * root - 0.25) * (1.0 / 0.75) - (t0[G0] + f * (t1[G0] - t0[G0]))
        cn = t0[CN] + f * (t1[CN] - t0[CN]) + excess * (t0[DCN] + f * (t1[DCN] - t0[DCN]))
        cc = t0[CC] + f * (t1[CC] - t0[CC]) + excess * (t0[DCC] + f * (t1[DCC] - t0[DCC]))
        cm = t0[CM] + f * (t1[CM] - t0[CM]) + excess * (t0[DCM] + f * (t1[DCM] - t0[DCM])) + bend
        target = t0[X0] + f * (t1[X0] - t0[X0])
        chord = strips[S_CHORD, i]
        rate = 1.0 if steady else max(sqrt(v2), SLOWEST) / (strips[S_LAG, i] * chord)
        out[o_x + i] = rate * (target - state)
        load = v2 * strips[S_AREA, i]
        circulating = attached * cn * load * inverse_v2
        sums[j, 0] += circulating
        sums[j, 1] += circulating * eta
        push = 0.5 * rho * load * strips[S_FORCE, i] * wake[i]
        along, normal = _turn(cc, cn, turned)
        along *= push
        normal *= push
        pitch = push * chord * cm
        gx = along * cx + normal * nx
        gy = along * cy + normal * ny
        gz = along * cz + normal * nz
        fx += gx
        fy += gy
        fz += gz
        mx += ry * gz - rz * gy + pitch * (cy * nz - cz * ny)
        my += rz * gx - rx * gz + pitch * (cz * nx - cx * nz)
        mz += rx * gy - ry * gx + pitch * (cx * ny - cy * nx)
    loads[0] += fx
    loads[1] += fy
    loads[2] += fz
    loads[3] += mx
    loads[4] += my
    loads[5] += mz
    for j in range(surfaces.shape[0]):
        _lag_rates(x, j, speed, surfaces, sums, o_induced, o_wash, steady, out)


@kernel
def _lag_rates(x, j, speed, surfaces, sums, o_induced, o_wash, steady, out):
    """Fill the rates of one surface's two induced angles and of its downwash."""
    vel = max(speed, SLOWEST)
    bound = surfaces[j, F_RATE_MAX]
    rate = 1.0 if steady else min(bound, vel / (surfaces[j, F_SPANS] * surfaces[j, F_SPAN]))
    i0 = o_induced + 2 * j
    out[i0] = rate * (surfaces[j, F_K0] * sums[j, 0] / surfaces[j, F_AREA] - x[i0])
    out[i0 + 1] = rate * (surfaces[j, F_K1] * sums[j, 1] / surfaces[j, F_AREA_ETA2] - x[i0 + 1])
    gain = surfaces[j, F_WASH_GAIN]
    slow = 1.0 if steady else min(bound, vel / max(surfaces[j, F_WASH_ARM], 1e-3))
    out[o_wash + j] = slow * (gain * x[i0] - x[o_wash + j])
