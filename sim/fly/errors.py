"""The array of what the build-up may have wrong beyond the stall, from its table."""

import numpy as np

from sim.aero.tables import TableFault, read_toml
from sim.core import layout as k
from sim.core.layout import Model
from sim.core.statics import swept
from sim.weigh.reference import Reference

TABLE = "error_model.toml"
PROBE_SPEED = 15.0  # m/s; coefficients do not depend on it
ALPHA_DEG, TURN_DEG, RATE = 2.0, 1.0, 0.01  # attached flow: about where, over what
# the kernel's order
NAMES = (
    "normal_force_error", "pitch_error", "yaw_stiffness_error", "roll_stiffness_error",
    "damping_error", "tail_power_error", "rudder_power_error", "aileron_power_error",
)  # fmt: skip


def error_array(model: Model, reference: Reference, density: float) -> np.ndarray:
    """Return the errors (Y_SERVO + N_SERVO_EFFECTS c,), all amounts nought.

    Parameters
    ----------
    model : Model
        About the balance point; its own errors are not asked.
    reference : Reference
        Area, span and chord that the errors' coefficients are on.
    density : float
        Of the air at the field [kg/m3].

    Raises
    ------
    TableFault
        The table lacks a shape, or its angles do not rise.
    """
    values = read_toml(TABLE).values
    angles, shapes = np.array(values["angles_deg"]), values["shapes"]
    lacking = [name for name in NAMES if len(shapes.get(name, ())) != k.N_LINES]
    rising = len(angles) == k.N_LINES + 1 and (np.diff([0.0, *angles, 90.0]) > 0.0).all()
    if lacking or not rising:
        text = (
            f"shapes.{lacking[0]}: needs {k.N_LINES} values"
            if lacking
            else (f"angles_deg: needs {k.N_LINES + 1} that rise, between 0 and 90")
        )
        raise TableFault(f"{TABLE}: {text}")
    out = np.zeros(k.Y_SERVO + k.N_SERVO_EFFECTS * model.servos.shape[0])
    sines = np.sin(np.radians(angles))
    out[k.Y_FROM : k.Y_FROM + k.N_LINES] = sines[:-1]
    out[k.Y_PER : k.Y_PER + k.N_LINES] = 1.0 / np.diff(sines)
    area = reference.area_m2
    sizes = [area, area * reference.mean_chord_m, area * reference.span_m, area * reference.span_m]
    sizes += [1.0] * (k.N_ERRORS - len(sizes))
    for i, (name, size) in enumerate(zip(NAMES, sizes, strict=True)):
        first = k.Y_SHAPE + k.N_LINES * i
        out[first : first + k.N_LINES] = size * np.diff([0.0, *shapes[name]])
    _attached(model, reference, density, out)
    return out


def _attached(model: Model, reference: Reference, density: float, out: np.ndarray) -> None:
    """Fill in damping about each axis, and what each servo does, in attached flow."""
    still = model._replace(units=model.units[:0].copy())
    count = model.servos.shape[0]
    n = 3 + count
    rates, turned = np.zeros((2, n, 3)), np.zeros((2, n, count))
    lengths = (reference.span_m, reference.mean_chord_m, reference.span_m)
    for side, sign in enumerate((1.0, -1.0)):
        for i, length in enumerate(lengths):
            rates[side, i, i] = sign * RATE * 2.0 * PROBE_SPEED / length
        turned[side, 3:] = sign * np.radians(TURN_DEG) * np.eye(count)
    alphas = np.full(n, np.radians(ALPHA_DEG))
    plus, minus = (
        swept(still, PROBE_SPEED, alphas, np.zeros(n), rates[side], turned[side], 0.0)
        for side in (0, 1)
    )
    half = 0.5 * density * PROBE_SPEED
    change = plus - minus
    for i in range(3):
        out[k.Y_DAMP + i] = change[i, 3 + i] / (2.0 * rates[0, i, i]) / half
    per_angle = change[3:] / (2.0 * np.radians(TURN_DEG)) / (half * PROBE_SPEED)
    out[k.Y_SERVO :] = per_angle[:, 1:].ravel()
