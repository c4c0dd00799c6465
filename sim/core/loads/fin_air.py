"""What turns the air sideways at a fin: the strakes' vortices and the wing's vortex sheet."""

from math import pi, sqrt

from sim.core import kernel
from sim.core.layout import (
    F_AREA,
    F_SHEET,
    F_SHEET_HIGH,
    F_SHEET_LOW,
    F_SHEET_OF,
    F_SHEET_OUT,
    F_SHEET_X,
    F_SIDE,
    F_SIDE_HIGH,
    F_SIDE_LOW,
    F_SIDE_OUT,
    F_SIDE_X,
    F_SIDE_Y,
    F_VORTEX,
    F_WASH_BELOW,
    F_WASH_GAIN,
    Z_SHEETWASH,
    Z_SIDEWASH,
)

MOST_SIDEWASH = 2.0  # to first order in sideslip no more is meant


@kernel(inlined=True, entry=False)
def sidewash(x, u, v, w, surfaces, o_wash, sums):
    """Fill by how much of itself the strakes' vortices change the sideslip of each fin.

    A vortex leaves either side, goes aft with the air, and so is displaced sideways by the
    sideslip times the way: fins above the pair are then washed with the sideslip, fins
    below it, as at high angle, against it. To first order in the displacement, mean of
    three heights; circulation from the strakes' force (Kutta), cores as wide as the
    vortices stand off the centreline.

    Speeds in m/s, lengths in m; the result is a share of the sideslip. Own, by Kutta and
    Biot-Savart from memory: first order in the displacement.
    """
    force = 0.0  # area times normal-force coefficient of the strakes, as the downwash has it
    for j in range(surfaces.shape[0]):
        turned, gain = x[o_wash + j], surfaces[j, F_WASH_GAIN]
        gain *= 1.0 + surfaces[j, F_WASH_BELOW] if turned * gain < 0.0 else 1.0
        if surfaces[j, F_VORTEX] > 0.0 and abs(gain) > 1e-9:
            force += turned * surfaces[j, F_AREA] / gain
    sine = w / sqrt(u * u + v * v + w * w + 1e-9)
    for j in range(surfaces.shape[0]):
        sums[j, Z_SIDEWASH] = 0.0
        if surfaces[j, F_SIDE] > 0.0:
            off = surfaces[j, F_SIDE_Y]
            near, far = surfaces[j, F_SIDE_OUT] - off, surfaces[j, F_SIDE_OUT] + off
            washed = 0.0
            for k in range(3):
                up = (k + 0.5) / 3.0
                over = surfaces[j, F_SIDE_LOW] * (1.0 - up) + surfaces[j, F_SIDE_HIGH] * up
                over -= surfaces[j, F_SIDE_X] * sine
                core = over * over + off * off
                near_2, far_2 = near * near + core, far * far + core
                washed += over * (far / (far_2 * far_2) - near / (near_2 * near_2)) / 3.0
            washed *= surfaces[j, F_SIDE] * force * surfaces[j, F_SIDE_X] / (4.0 * pi * off)
            sums[j, Z_SIDEWASH] = max(-MOST_SIDEWASH, min(MOST_SIDEWASH, washed))


@kernel
def sheet_mean(up, out):
    """Return Z sqrt(1 + Z^2) - Z^2, real part, Z = up - i out: see `sheetwash`.

    Lengths in half spans, without unit. Own: the integral of what `sheetwash` has, from
    [glauert1926]'s circulation.
    """
    up = abs(up)
    real = 1.0 + up * up - out * out
    size = sqrt(real * real + 4.0 * up * up * out * out)
    across = sqrt(max(0.0, 0.5 * (size + real)))
    along = sqrt(max(0.0, 0.5 * (size - real)))
    return up * across - out * along - up * up + out * out


@kernel(inlined=True, entry=False)
def sheetwash(x, u, v, w, surfaces, o_wash, sums):
    """Fill the angle by which the wing's vortex sheet turns the air at each fin to the right.

    What is right less left of the wing's lift, by aileron, roll or sideslip, is Prandtl's second
    term, circulation y sqrt(1 - y^2) over the half span [glauert1926]. Its sheet goes aft as a
    plane, with the air as it has been turned down, and by Biot and Savart washes what is above it
    to the side that lifts more, what is below the other way: at the sheet by as much as the
    induced angle grows over the half span, at height z by the real part of
    (1 + 2 Z^2) / sqrt(1 + Z^2) - 2 Z times that, Z = z - i y. Mean over the fin's height, from the
    integral Z sqrt(1 + Z^2) - Z^2. Flow that has let go sheds by its lift as attached flow does.

    Speeds in m/s, angles in rad.
    """
    sine = w / sqrt(u * u + v * v + w * w + 1e-9)
    for j in range(surfaces.shape[0]):
        sums[j, Z_SHEETWASH] = 0.0
        if surfaces[j, F_SHEET] > 0.0:
            over = surfaces[j, F_SHEET_X] * sine
            low, high = surfaces[j, F_SHEET_LOW], surfaces[j, F_SHEET_HIGH]
            out = surfaces[j, F_SHEET_OUT]
            mean = (sheet_mean(high - over, out) - sheet_mean(low - over, out)) / (high - low)
            slope = x[o_wash + surfaces.shape[0] + int(surfaces[j, F_SHEET_OF])]
            sums[j, Z_SHEETWASH] = surfaces[j, F_SHEET] * mean * slope
