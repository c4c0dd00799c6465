"""Hinge moments of flaps and whole moving surfaces, at every angle of attack."""

from math import acos, pi

import numpy as np

from sim import tables
from sim.aero.geometry.panels import Panel, panels_of, pivot_x
from sim.core import layout as k
from sim.core import script_layout as s
from sim.describe.geometry import Control
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled
from sim.structure.strip_flow import StripFlow

SMALL = 0.02  # a normal-force coefficient below which a centre of pressure tells nothing
LEAN = 2.0  # a straight pressure along the chord that keeps its sign leans no more
POINTS = 4000  # of the integral over the chord


def thin_flap_slopes(chord_share: float) -> tuple[float, float]:
    """Return what a radian of incidence and of deflection do to a flap's hinge moment [1/rad].

    Coefficients on the flap's own chord squared, positive where they close the flap. Thin-aerofoil
    theory [glauert1926]: pressure 4 cot(theta/2) of incidence, and of a bent plate that of its
    share (pi - h)/pi of it and (4/pi) ln|sin((theta+h)/2)/sin((theta-h)/2)|, integrated over the
    flap; cos h = 2 chord_share - 1 at the hinge.

    Parameters
    ----------
    chord_share : float in (0, 1)
        Flap chord over section chord.
    """
    hinge = acos(2.0 * chord_share - 1.0)
    theta = hinge + (np.arange(POINTS) + 0.5) / POINTS * (pi - hinge)
    back = 0.5 * (1.0 - np.cos(theta)) - (1.0 - chord_share)
    step = 0.5 * np.sin(theta) * (pi - hinge) / POINTS
    incidence = 4.0 / np.tan(0.5 * theta)
    bent = (pi - hinge) / pi * incidence
    bent += 4.0 / pi * np.log(np.sin(0.5 * (theta + hinge)) / np.sin(0.5 * (theta - hinge)))
    weight = back * step / chord_share**2
    return float(np.sum(incidence * weight)), float(np.sum(bent * weight))


def separated_flap_moment(normal: Floats, moment: Floats, chord_share: float) -> Floats:
    """Return a flap's hinge-moment coefficient where flow has let go, closing positive.

    Own: a pressure along the chord that falls on a straight line has one slope for a normal force
    and its moment about the quarter chord; at right angles to the air it is even, and the flap
    takes half of the normal-force coefficient. It keeps its sign along the chord.
    """
    tells = np.abs(normal) > SMALL
    centre = 0.25 - np.where(tells, moment / np.where(tells, normal, 1.0), 0.25 - 0.5)
    lean = np.clip(12.0 * (centre - 0.5), -LEAN, LEAN)
    share = 0.5 * (1.0 + lean * (0.5 - chord_share)) + lean * chord_share / 3.0
    return np.asarray(normal * share)


def hinge_moments(ready: Assembled, flow: StripFlow) -> Floats:
    """Return the moment (t, c) [N m] that each servo holds about its hinge.

    Of a flap positive where it is pushed trailing edge up, of a whole surface nose up.

    Own: attached flow by the slope of control_model.toml and the ratio of both slopes by
    [glauert1926]; what has separated by `separated_flap_moment`; a whole surface by each strip's
    force and moment about the pivot that the file states. The linkage turns the surface as far as
    the servo turns. The part's own mass is left out.
    """
    out = np.zeros((len(flow.rows), flow.model.servos.shape[0]))
    surfaces, servo = flow.model.strip_index[[k.SI_SURFACE, k.SI_CHANNEL]]
    pairs = [(j, panel) for j, x in enumerate(ready.aeroplane.surfaces) for panel in panels_of(x)]
    for j, panel in pairs:
        for control in panel.surface.controls:
            side = panel.side if panel.surface.mirrored else 0.0
            row = ready.aero.channels[control.channel, side]
            mine = np.flatnonzero((servo == row) & (surfaces == j))
            if control.kind == "all_moving":
                out[:, row] += _whole(ready, panel, control, flow, mine)
            else:
                out[:, row] += _flap(panel, control, flow, mine, row)
    return out


def _whole(
    ready: Assembled, panel: Panel, control: Control, flow: StripFlow, mine: np.ndarray
) -> Floats:
    """Return the moment (t,) [N m] of a whole surface about its pivot; sum of forces times arms.

    Its force at the arm that is not known (servo_loads.toml) makes it larger, whichever way it is.
    """
    strips = flow.model.strips[:, mine]
    # a draw moves the balance point, not the pivot
    ahead = ready.model.strips[k.S_RX, mine] + float(ready.weighed.balance_m[0])
    ahead = ahead - pivot_x(panel, control.pivot_pct or 0.0)
    push = flow.pressure[:, mine] * strips[k.S_AREA]
    arms = flow.normal[:, mine] * ahead
    turning = flow.moment[:, mine] * strips[k.S_CHORD] * strips[k.S_CX]
    told = (push * (arms + turning)).sum(axis=1)
    arm = tables.servo_loads().arm_share * panel.area / panel.span
    doubt = arm * np.abs((push * flow.normal[:, mine]).sum(axis=1))
    return np.asarray(np.where(told < 0.0, told - doubt, told + doubt))


def _flap(panel: Panel, control: Control, flow: StripFlow, mine: np.ndarray, row: int) -> Floats:
    """Return the moment (t,) [N m] that pushes a flap trailing edge up; see `hinge_moments`."""
    share = (control.chord_pct or 0.0) / 100.0
    inner, outer = (control.inner_pct or 0.0) / 100.0, (control.outer_pct or 0.0) / 100.0
    strips = flow.model.strips[:, mine]
    weight = strips[k.S_FRAC] * strips[k.S_AREA]
    chord = share * panel.chord(0.5 * (inner + outer))
    area = weight / weight.sum() * chord * (outer - inner) * panel.span
    by_incidence, by_flap = thin_flap_slopes(share)
    slope = tables.control_model().flap_per_rad
    delta = flow.rows[:, [s.H_SERVO + row]]
    attached = slope * (delta + by_incidence / by_flap * flow.incidence[:, mine])
    away = separated_flap_moment(flow.normal[:, mine], flow.moment[:, mine], share)
    gone = flow.gone[:, mine]
    each = (1.0 - gone) * attached + gone * away
    return np.asarray((flow.pressure[:, mine] * each * area).sum(axis=1) * chord)
