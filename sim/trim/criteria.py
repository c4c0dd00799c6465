"""What the departure criteria say of a set-up along the angle of attack."""

from dataclasses import dataclass
from enum import StrEnum
from math import degrees

import numpy as np
from numpy.typing import NDArray

from sim import tables
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled
from sim.trim.trimming import criteria_of, lateral_slopes

STEP_DEG = 1.0


class Says(StrEnum):
    """What the signs of the two criteria mean, in words."""

    RESISTS = "resists"
    NOSE = "nose swings away"
    AILERON = "ailerons reversed"
    BOTH = "both"


@dataclass(frozen=True)
class Criteria:
    """Departure criteria (n,) against angle of attack, per degree; see `criteria_of`.

    ``dynamic`` is Cn_beta,dyn, ``aileron`` LCDP (NaN where ailerons do not roll at all),
    ``roll_power`` what half left to half right stick gives in Cl, right plus, without
    sideslip.
    """

    alphas_deg: Floats
    dynamic: Floats
    aileron: Floats
    roll_power: Floats

    @property
    def nose_away(self) -> NDArray[np.bool_]:
        """Where (n,) the nose swings away from the air that it meets."""
        return self.dynamic < 0.0

    @property
    def hardly_rolls(self) -> NDArray[np.bool_]:
        """Where (n,) ailerons give too little roll for LCDP, which divides by it, to say how much.

        Own: by the share [-] of judge.toml of the most they give at these angles.
        """
        power = np.abs(self.roll_power)
        return np.asarray(power < tables.judge().criteria_least_roll_share * power.max(initial=0.0))

    @property
    def roll_against(self) -> NDArray[np.bool_]:
        """Where (n,) ailerons, with the sideslip that they bring, roll the wrong way.

        The roll that follows has the sign of Cl_da LCDP [1/deg], as the constant term of the
        roll response to the ailerons shows [etkin1996]. LCDP alone tells it only where the
        ailerons roll the right way without sideslip.
        """
        return np.nan_to_num(self.aileron * self.roll_power) < 0.0


def criteria(assembled: Assembled, alphas_deg: Floats, speed_mps: float) -> Criteria:
    """Return the criteria of a set-up at angles of attack (n,) [deg]."""
    slopes = lateral_slopes(assembled, alphas_deg, speed_mps)
    dynamic, aileron = criteria_of(assembled, alphas_deg, slopes)
    return Criteria(np.asarray(alphas_deg, dtype=float), dynamic, aileron, slopes.cl_aileron)


def criteria_beyond_stall(assembled: Assembled) -> Criteria:
    """Return the criteria from the stall, first, to the reach that judge.toml gives [deg].

    Own: every degree of the angles that a departure flies through.
    """
    stall = degrees(assembled.stall.alpha)
    judge = tables.judge()
    last = max(judge.criteria_to_deg, stall + judge.criteria_least_beyond_deg)
    alphas = np.linspace(stall, last, 1 + round((last - stall) / STEP_DEG))
    return criteria(assembled, alphas, assembled.stall.speed_mps)


def says(found: Criteria) -> Says:
    """Return what the criteria say if every one of their angles of attack is flown through."""
    nose, aileron = bool(found.nose_away.any()), bool(found.roll_against.any())
    if nose and aileron:
        return Says.BOTH
    if nose:
        return Says.NOSE
    return Says.AILERON if aileron else Says.RESISTS


def first(found: Criteria) -> Criteria:
    """Return the criteria at the first angle alone."""
    return Criteria(
        found.alphas_deg[:1], found.dynamic[:1], found.aileron[:1], found.roll_power[:1]
    )
