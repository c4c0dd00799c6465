"""What measuring would change of an aft or a forward limit: plain frozen records."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Promise:
    """An aft limit with something measured that now is not, if it comes out as it stands.

    ``share`` of the spread of draws' thresholds (their variance) that measuring takes away, with
    95 % limits; ``told``: it stands out of chance. ``aft_mm`` with its 95 % limits is what the
    limit becomes, further aft by ``gain_mm``, itself with 95 % limits. ``assumed``: nobody measured
    it; else it was, with the usual error. ``keys`` of the aeroplane's file become known by it.
    """

    name: str
    text: str
    measure: str
    assumed: bool
    keys: tuple[str, ...]
    share: float
    share_low: float
    share_high: float
    told: bool
    aft_mm: float
    low_mm: float | None
    high_mm: float | None
    gain_mm: float
    gain_low_mm: float
    gain_high_mm: float


@dataclass(frozen=True)
class LandingPromise:
    """What a forward limit becomes with something measured, if it comes out as in the file [mm]."""

    text: str
    measure: str
    aft_mm: float


@dataclass(frozen=True)
class OwnShare:
    """How much of the spread the method's own uncertainty in one thing holds.

    ``measure`` is what a test flight tells of it; empty where nothing does.
    """

    name: str
    text: str
    measure: str
    share: float


@dataclass(frozen=True)
class Measuring:
    """What measuring would change of an aft limit, reckoned from the flights of its search.

    Shares are of the spread of the balance points at which draws are first lost, in ``manoeuvre``,
    which decides the limit: what measuring on the ground takes away, what is the pilot's and the
    day's, what is the method's ``own``, the strongest first, and what goes with no single draw.
    ``promises`` are those that stand out of chance and move the limit visibly, the most first;
    ``nearest`` is the one that would move it most of those that stand out, seen or not, None where
    none does; ``together`` all that can be measured. ``lost`` draws tell; where they are too few,
    all shares are None and nothing is promised.
    """

    manoeuvre: str
    promises: tuple[Promise, ...]
    nearest: Promise | None
    together: Promise | None
    day_share: float | None
    method_share: float | None
    untraced_share: float | None
    own: tuple[OwnShare, ...]
    lost: int

    @property
    def tells(self) -> bool:
        """Whether anything stands out; else the lost draws are too few, or go with chance."""
        return bool(self.promises or self.own or self.nearest is not None)
