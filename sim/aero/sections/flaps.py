"""Plain flaps in viscous flow: thin-aerofoil theory times what is left of it."""

from functools import lru_cache
from math import radians
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.aero.sections.plates import (
    plate_normal_force_90,
    separated_fullness,
    separated_normal_force,
)
from sim.aero.sections.separated import rayleigh_normal_force, rayleigh_rear_share
from sim.aero.sections.thin_aerofoil import cavity_flap, flap_effectiveness, flap_moment
from sim.core.loads.lookup import CN, DCN, G0, coordinate_of_alpha, grid


class FlapEffect(NamedTuple):
    """tau: turn of the zero-lift angle per rad of flap; delta_cm: CM about c/4 per rad."""

    tau: float
    delta_cm: float


def flap_effect(chord_share: float, deflection: float) -> FlapEffect:
    """Return the secant effect of a plain flap at a deflection.

    Thin-aerofoil theory [glauert1926] times what is left of it, [datcom1978] 6.1.1.1.

    Parameters
    ----------
    chord_share : float in [0, 1]
        Flap chord over section chord; 1 is an all-moving section: tau 1, no moment.
    deflection : float [rad]
        Its size sets the loss, flap_effect.toml; beyond the table's end the last share.
    """
    if chord_share >= 1.0:
        return FlapEffect(1.0, 0.0)
    values = tables.flap_effect()
    degrees = abs(float(np.degrees(deflection)))
    share = float(np.interp(degrees, values.deflection_deg, values.share))
    moment_share = float(np.interp(degrees, values.deflection_deg, values.moment_share))
    return FlapEffect(
        share * flap_effectiveness(chord_share), moment_share * flap_moment(chord_share)
    )


class SeparatedFlap(NamedTuple):
    """What a radian of flap does: CN and CM about c/4, on a plate with a wake at ambient pressure.

    ``normal`` and ``moment`` go with the share of air along the chord, ``squared`` with its square.
    """

    normal: float
    squared: float
    moment: float


def separated_flap(chord_share: float) -> SeparatedFlap:
    """Return what a plain flap does to flow that has separated from the leading edge [1/rad].

    The pressure side still feels it: on a plate whose suction side is a cavity the flap is worth
    the share `cavity_flap` of turning the whole plate [tulin1955], whose slope is pi/2 there. With
    angle it falls as free streamlines past a bent plate have it (flap_effect.toml), slower than
    the whole plate's: 0.49 and 0.34 at 30 and 45 degrees for a flap of 20 %, 0.45 and 0.29 of it.
    The kernel takes s (m + (1 - m) s) of it, s = u/(|u| + |w|), and of the moment s.

    Parameters
    ----------
    chord_share : float in [0, 1]
        Flap chord over section chord.
    """
    values = tables.flap_effect()
    slope = 0.5 * np.pi * values.separated_share * cavity_flap(chord_share)
    straight, centre = (
        float(np.interp(chord_share, values.separated_chord, curve))
        for curve in (values.separated_straight, values.separated_centre)
    )
    return SeparatedFlap(slope * straight, slope * (1.0 - straight), -slope * (centre - 0.25))


def separated_level(table: np.ndarray) -> float:
    """Return the normal force of a section's separated flow over that of a plate with a wake [-].

    The suction of the wake, which that one has not [rayleigh1876], makes all of its loads larger,
    a flap's too: at one angle of flap_effect.toml, the mean of both sides.

    Parameters
    ----------
    table : float array (N_S, N_COLUMNS)
        Of the section.
    """
    alpha = radians(tables.flap_effect().separated_load_at_deg)
    force = table[:, CN] - table[:, G0] * table[:, DCN]
    here = np.interp(coordinate_of_alpha(np.array([alpha, -alpha])), grid(), force)
    return float(0.5 * (here[0] - here[1]) / rayleigh_normal_force(alpha))


@lru_cache
def separated_load(chord_share: float, aspect_ratio: float) -> float:
    """Return the share [-] of the force of separated flow that acts on a plain flap.

    Less than its share of the chord, as the load leans forward: that of a plate with a wake at
    ambient pressure [rayleigh1876], at one angle of flap_effect.toml for all. What a plate's
    normal force has beyond that one's is the suction of its wake, even along the chord [fage1927].

    Parameters
    ----------
    chord_share : float in [0, 1]
        Flap chord over section chord.
    aspect_ratio : float
        Of the surface [-].
    """
    alpha = radians(tables.flap_effect().separated_load_at_deg)
    force = separated_normal_force(
        alpha, plate_normal_force_90(aspect_ratio), separated_fullness(aspect_ratio)
    )
    even = 1.0 - float(rayleigh_normal_force(alpha)) / float(force)
    return even * chord_share + (1.0 - even) * rayleigh_rear_share(chord_share, alpha)


def flap_drag(chord_share: float, deflection: float) -> float:
    """Return what a lowered plain flap adds to its section's drag coefficient at a given lift [-].

    k (cf/c)^n sin^2(deflection) [young1953], flap_effect.toml.

    Parameters
    ----------
    chord_share : float in [0, 1]
        Flap chord over section chord.
    deflection : float [rad]
    """
    values = tables.flap_effect()
    shape = chord_share**values.drag_chord_power * np.sin(deflection) ** 2
    return float(values.drag_factor * shape)


def flap_stall_share() -> float:
    """Return the share of a flap's effect on lift that its effect on the stall angle is.

    The rest adds to the greatest lift, as plain flaps do; flap_effect.toml.
    """
    return tables.flap_effect().stall_share
