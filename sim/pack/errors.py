"""The array of what the build-up may have wrong, from its table."""

import numpy as np

from sim import tables
from sim.core import error_layout as e
from sim.core import layout as k
from sim.core.draw_layout import ERROR_NAMES, ROLE_FIN
from sim.core.layout import Model
from sim.core.steady.statics import swept
from sim.weigh.reference import Reference

PROBE_SPEED = 15.0  # m/s; coefficients do not depend on it


def error_array(
    model: Model, roles: np.ndarray, reference: Reference, density: float
) -> np.ndarray:
    """Return the errors (Y_SERVO + N_SERVO_EFFECTS c,), all amounts nought.

    Own: shapes of error_model.toml over angle of attack, straight lines in its sine; of
    coefficients, times area and length.

    Parameters
    ----------
    model : Model
        About the balance point; its own errors are not asked.
    roles : int array (m,)
        Of its surfaces.
    reference : Reference
        Area, span and chord that the errors' coefficients are on.
    density : float
        Of the air at the field [kg/m³].
    """
    table = tables.error_model()
    out = np.zeros(e.Y_SERVO + e.N_SERVO_EFFECTS * model.servos.shape[0])
    sines = np.sin(np.radians(table.signed_angles_deg()))
    out[e.Y_FROM : e.Y_FROM + e.N_NODES] = sines
    out[e.Y_PER : e.Y_PER + e.N_NODES - 1] = 1.0 / np.diff(sines)
    area = reference.area_m2
    sizes = np.ones(e.N_ERRORS)  # of shares
    sizes[[e.Y_NORMAL, e.Y_AXIAL, e.Y_SIDE]] = area
    sizes[[e.Y_PITCH, e.Y_TRIM]] = area * reference.mean_chord_m
    sizes[[e.Y_YAW_STIFF, e.Y_ROLL_STIFF]] = area * reference.span_m
    sizes[e.Y_AILERON_SIDE] = 1.0 / reference.span_m
    for i, name in enumerate(ERROR_NAMES):
        first = e.Y_SHAPE + e.N_NODES * i
        out[first : first + e.N_NODES] = sizes[i] * table.whole_shape(name)
    out[e.Y_MOST_RATE] = 2.0 * table.most_turn_rate / reference.span_m
    out[e.Y_PER_ARM] = 1.0 / _fin_arm(model, roles, reference.span_m)
    _attached(model, reference, density, out)
    return out


def _fin_arm(model: Model, roles: np.ndarray, span: float) -> float:
    """Return how far the fins stand behind the balance point [m], by definition their mean.

    Own: a share of the span where there are none, or they stand too near to tell,
    error_model.toml.
    """
    fins = roles[model.strip_index[k.SI_SURFACE]] == ROLE_FIN
    area = model.strips[k.S_AREA, fins]
    arm = -float((area * model.strips[k.S_RX, fins]).sum()) / max(float(area.sum()), 1e-9)
    table = tables.error_model()
    tells = arm > table.least_fin_arm_spans * span
    return arm if tells else span / table.span_over_arm_without_fins


def _attached(model: Model, reference: Reference, density: float, out: np.ndarray) -> None:
    """Fill in damping about each axis, and what each servo does, in attached flow.

    By definition: differences of the loads [N, N m] over turn rates [rad/s] and angles [rad].
    """
    table = tables.error_model()
    turn = np.radians(table.attached_turn_deg)
    still = model._replace(units=model.units[:0].copy())
    count = model.servos.shape[0]
    n = 3 + count
    rates, turned = np.zeros((2, n, 3)), np.zeros((2, n, count))
    lengths = (reference.span_m, reference.mean_chord_m, reference.span_m)
    for side, sign in enumerate((1.0, -1.0)):
        for i, length in enumerate(lengths):
            rates[side, i, i] = sign * table.attached_rate * 2.0 * PROBE_SPEED / length
        turned[side, 3:] = sign * turn * np.eye(count)
    alphas = np.full(n, np.radians(table.attached_alpha_deg))
    plus, minus = (
        swept(still, PROBE_SPEED, alphas, np.zeros(n), rates[side], turned[side], 0.0)
        for side in (0, 1)
    )
    half = 0.5 * density * PROBE_SPEED
    change = plus - minus
    for i in range(3):
        out[e.Y_DAMP + i] = change[i, 3 + i] / (2.0 * rates[0, i, i]) / half
    per_angle = change[3:] / (2.0 * turn) / (half * PROBE_SPEED)
    out[e.Y_SERVO :] = per_angle[:, 1:].ravel()
