"""What a set-up can do: one manoeuvre that pilots go aft for, over its draws."""

from dataclasses import dataclass, field

import numpy as np


@dataclass(frozen=True)
class Spread:
    """Median of draws, and what 10 and 90 % of them stay below; infinite: not to be had."""

    median: float
    low: float
    high: float


@dataclass(frozen=True)
class Shown:
    """One manoeuvre of a set-up, by the name that the study gives it.

    ``shows`` is the kind, ``figure`` the one number that it is flown for, in the ``unit`` of its
    kind (`sim.judge.agility.FIGURES`), ``best`` that of the best flight; ``counted`` is the same
    with flights that did not come out forwards at the worst there is. ``done`` of the ``flights``
    did it, ``out`` came out, with 95 % limits of that share. ``held_angle_deg`` is that of a pass
    at its slowest. ``rows`` (n, N_MEASURED) are the flights, ``which`` (n,) their draws.
    """

    manoeuvre: str
    title: str
    shows: str
    unit: str
    flights: int
    done: int
    out: int
    out_low: float
    out_high: float
    best: float
    figure: Spread
    counted: Spread
    time_s: Spread
    angle_deg: Spread
    pitch_rate_dps: Spread
    held_angle_deg: Spread
    load_g: Spread
    height_used_m: Spread
    rows: np.ndarray = field(repr=False)
    which: np.ndarray = field(repr=False)
