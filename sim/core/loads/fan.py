"""A ducted fan: the flow through it, and the force of the duct on the body."""

import math

from sim.core import kernel

TINY = 1e-12  # keeps the quotient finite; numerical only


@kernel
def fan_flow(
    area, nozzle, tip_radius, psi_zero, slope, efficiency, loss, ram, ram_speed, rho, om,
    lip_head=0.0,
):  # fmt: skip
    """Flow through a fan: axial speed at the fan and jet speed [m/s], shaft torque [N m].

    The pressure balance, inlet to nozzle at ambient pressure (V_e = V_a A / A_e, U tip speed):

        rho U² (psi_0 + psi_1 V_a/U) + rho/2 (ram V² - lip) = rho/2 (V_e² + K V_a²)

    is a quadratic in V_a. Where the flow outruns the rotor (V_a above the no-work ratio
    -psi_0/psi_1 times U: windmilling, stopped) the tangential mismatch of the blades is
    lost as well, rho/2 (V_a/phi_0 - U)², the shock loss of turbomachinery (common practice,
    no source). No flow comes back out of the inlet. Shaft power is pressure rise times
    volume flow over the efficiency, and times it where the flow drives the rotor.

    Parameters
    ----------
    area .. ram : float
        The columns U_DUCT_AREA to U_RAM of the unit.
    ram_speed : float [m/s]
        Axial air speed at the inlet, negative when flying backwards.
    rho : float [kg/m³]
    om : float [rad/s]
        Speed of the rotor; a negative one counts as none.
    lip_head : float [m²/s²]
        What is lost behind the windward lip, over rho/2: air that comes across the inlet.

    Own: the balance solved as one quadratic; its momentum theory is from memory.
    """
    tip_speed = max(om, 0.0) * tip_radius
    ratio = area / nozzle
    a = 0.5 * (ratio * ratio + loss)
    b = -slope * tip_speed
    head = ram * ram_speed * abs(ram_speed) - lip_head
    g = max(psi_zero * tip_speed * tip_speed + 0.5 * head, 0.0)
    axial = 2.0 * g / (b + math.sqrt(b * b + 4.0 * a * g) + TINY)
    if slope * axial + psi_zero * tip_speed < 0.0:
        no_work = -psi_zero / slope
        a += 0.5 / (no_work * no_work)
        b -= tip_speed / no_work
        g -= 0.5 * tip_speed * tip_speed
        axial = (math.sqrt(max(b * b + 4.0 * a * g, 0.0)) - b) / (2.0 * a)
    torque = rho * (psi_zero * tip_speed + slope * axial) * tip_radius * area * axial
    torque = torque / efficiency if torque > 0.0 else torque * efficiency
    return axial, axial * ratio, torque


@kernel(entry=False)
def duct_loads(xi, yi, zi, xe, ye, ze, ax, ay, az, ui, vi, wi, p, q, r, mdot, push):
    """Force [N] and moment [N m] of the flow through a duct that moves and turns.

    The jet pushes along the axis at the nozzle e; the air that was at rest is taken along
    at the inlet i (-mdot times the whole velocity there, so sideslip and angle of attack
    count); turning with the duct costs the Coriolis force -2 mdot omega × (r_e - r_i),
    spread evenly along it, so acting at its middle. The last makes the jet damping of
    rockets and jets. Momentum theorem for a steady flow through a moving duct.

    Positions in m, speeds in m/s, rates in rad/s, ``mdot`` in kg/s, ``push`` in N. Momentum
    theorem from memory; own: the Coriolis force at the duct's middle.
    """
    ex, ey, ez = push * ax, push * ay, push * az
    ix, iy, iz = -mdot * ui, -mdot * vi, -mdot * wi
    dx, dy, dz = xe - xi, ye - yi, ze - zi
    cx = -2.0 * mdot * (q * dz - r * dy)
    cy = -2.0 * mdot * (r * dx - p * dz)
    cz = -2.0 * mdot * (p * dy - q * dx)
    xm, ym, zm = 0.5 * (xe + xi), 0.5 * (ye + yi), 0.5 * (ze + zi)
    return (
        ex + ix + cx,
        ey + iy + cy,
        ez + iz + cz,
        ye * ez - ze * ey + yi * iz - zi * iy + ym * cz - zm * cy,
        ze * ex - xe * ez + zi * ix - xi * iz + zm * cx - xm * cz,
        xe * ey - ye * ex + xi * iy - yi * ix + xm * cy - ym * cx,
    )
