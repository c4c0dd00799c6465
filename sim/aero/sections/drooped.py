"""A leading edge turned down: what its strips do otherwise than those behind a plain one.

Attached, it is a camber line [abbott1959] ch. 4: zero lift comes later, the nose pushes down.
What a thin edge loses of its suction, and the stall that begins there, answer to the angle
over the ideal one, where the air meets the edge along its own chord; what tilts forward with
the nose is kept. Flow that has let go pushes as hard on the nose as on the rest of the chord,
but across the nose's own chord: so a part of it points forward.
"""

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.aero.sections.branches import Branch
from sim.aero.sections.separated import rayleigh_rear_share, smooth_step
from sim.aero.sections.thin_aerofoil import nose_flap
from sim.core.loads.lookup import alpha_of_coordinate, grid


class Drooped(NamedTuple):
    """A nose: angle down across its hinge [rad], its share of the chord.

    ``lean`` [rad] is the sweep by which a table's air, along the stream, is not across the hinge.
    """

    down: float = 0.0
    chord_share: float = 0.0
    lean: float = 0.0


PLAIN = Drooped()


class Turned(NamedTuple):
    """What a drooped nose takes off the angle of attack [rad], and its moment [-], each (N_S,).

    ``zero_lift`` off that of lift, ``edge`` off that which the leading edge meets, ``later``
    off that of the stall.
    """

    zero_lift: np.ndarray
    edge: np.ndarray
    later: np.ndarray
    moment: np.ndarray


def turned(nose: Drooped) -> Turned:
    """Return what a nose turns [rad], on the grid; nought when flying backwards.

    Thin-aerofoil theory [abbott1959]; the stall comes later by a share of the ideal angle's
    rise, as for equal suction at the edge [datcom1978] 6.1.1.3, flap_effect.toml. Air along the
    stream meets a swept hinge with a part of its speed and is turned less by it [jones1947]: the
    angle goes with the cosine of the lean, the moment with its fourth power.
    """
    m = tables.flap_effect()
    effect = nose_flap(nose.chord_share)
    turn = nose.down * np.cos(nose.lean) * from_ahead()
    edge = effect.ideal * turn
    moment = effect.moment * np.cos(nose.lean) ** 3
    return Turned(effect.zero_lift * turn, edge, m.nose_stall_share * edge, moment * turn)


def from_ahead() -> np.ndarray:
    """Return (N_S,) [-]: 1 where the air comes from ahead, 0 from across and from behind; own."""
    m = tables.flap_effect()
    size = np.degrees(np.abs(alpha_of_coordinate(grid())))
    return 1.0 - smooth_step(size, m.nose_fade_from_deg, m.nose_fade_to_deg)


def let_go(separated: Branch, nose: Drooped) -> Branch:
    """Return separated flow [-] whose force on the nose stands across the nose's own chord.

    It carries its share of a plate with a wake [rayleigh1876], as a flap does; about the quarter
    chord the two changes take each other off to 0.003 of the normal force. Own: to whom it goes.
    """
    across, along = 1.0 - np.cos(nose.down), np.sin(nose.down) * np.cos(nose.lean)
    on_nose = nose_load(nose.chord_share) * separated.cn
    return separated._replace(cn=separated.cn - across * on_nose, cc=separated.cc + along * on_nose)


@lru_cache
def nose_load(chord_share: float) -> np.ndarray:
    """Return the share (N_S,) [-] of separated flow's force that acts on the front of a section.

    The load of a plate with a wake leans to where the air comes from [rayleigh1876].
    """
    steps = np.radians(np.linspace(0.0, 90.0, 19))
    rear = {
        part: [rayleigh_rear_share(part, max(step, steps[1])) for step in steps]
        for part in (chord_share, 1.0 - chord_share)
    }
    size = np.abs(alpha_of_coordinate(grid()))
    ahead = 1.0 - np.interp(size, steps, rear[1.0 - chord_share])
    behind = np.interp(np.pi - size, steps, rear[chord_share])
    return np.where(size <= 0.5 * np.pi, ahead, behind)
