"""Does the step of the integrator move a study's answer? A sample of it flown at half the step.

Most flights move by less than a millimetre. A few do not: a flight that hangs between two
ends goes either way by the last digit of anything, be it the step or the weight. So the
check tells shares, and which verdicts turned, and no bound.
"""

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from sim.core import script_layout as s
from sim.describe import Manoeuvre, Recovery
from sim.fly.flying import Settings, fly_many
from sim.judge.verdicts import NAMES, verdict_codes
from sim.pack.assemble import Assembled
from sim.study.flights.draws import Draws
from sim.study.flights.running import workers_wanted
from sim.study.results.stepped import StepCheck, Turned

CENTIMETRE, METRE = 0.01, 1.0


class FlownLeg(NamedTuple):
    """One set-up, manoeuvre and recovery as flown: draws, sides and summaries (n, ...)."""

    assembled: Assembled
    manoeuvre: Manoeuvre
    recovery: Recovery
    entry_m: float
    floor_m: float
    which: np.ndarray
    sides: np.ndarray
    rows: np.ndarray


def at_half_the_step(settings: Settings) -> Settings:
    """Return settings whose every step is half as long, also where a tick is cut finer.

    The roughness of a step goes with its fifth power (`sim.core.motion.march`), so a 32nd of it is
    asked: the same one would be met by fewer cuts, and nothing be halved there.
    """
    return replace(
        settings, step_s=settings.step_s / 2.0, rough_rps=settings.rough_rps / 2.0**5,
        smooth_rps=settings.smooth_rps / 2.0**5,
    )  # fmt: skip


def sampled(sizes: Sequence[int], sample: int, seed: int) -> list[np.ndarray]:
    """Return which flights of each leg to fly again, rising, at most ``sample`` in all.

    Legs take turns in an order drawn by ``seed``, so that each gives as many as any other
    or one less; within a leg the flights are drawn without one twice.
    """
    rng = np.random.default_rng(seed)
    turns = rng.permutation(len(sizes))
    orders = [rng.permutation(size) for size in sizes]
    taken = [0] * len(sizes)
    left = min(sample, sum(sizes))
    while left > 0:
        for leg in turns:
            if left > 0 and taken[leg] < sizes[leg]:
                taken[leg] += 1
                left -= 1
    return [np.sort(order[:n]) for order, n in zip(orders, taken, strict=True)]


def check_step(
    legs_with_rows: Sequence[FlownLeg],
    draws: Draws,
    settings: Settings,
    sample: int,
    seed: int,
    workers: int | None = None,
) -> StepCheck:
    """Fly a sample of what a study flew again at half the step.

    Parameters
    ----------
    legs_with_rows : sequence of FlownLeg
        Or of plain tuples with the same members in the same order.
    draws : Draws
        Those of the study, which ``which`` points into.
    settings : Settings
        With which the flights were flown.
    sample, seed : int
        How many flights, and which; the same ones for any number of workers.
    """
    legs = [FlownLeg(*leg) for leg in legs_with_rows]
    chosen = sampled([len(leg.rows) for leg in legs], sample, seed)
    half = at_half_the_step(settings)

    def again(job: tuple[FlownLeg, int]) -> np.ndarray:
        leg, row = job
        one = slice(row, row + 1)
        return fly_many(
            leg.assembled, leg.manoeuvre, leg.recovery, draws.physical, leg.which[one],
            leg.sides[one], leg.entry_m, half,
        )  # fmt: skip

    jobs = [(leg, int(row)) for leg, rows in zip(legs, chosen, strict=True) for row in rows]
    with ThreadPoolExecutor(workers_wanted(workers)) as pool:
        found = list(pool.map(again, jobs))
    return _compared(jobs, found, settings.step_s)


def _compared(
    jobs: Sequence[tuple[FlownLeg, int]], found: Sequence[np.ndarray], step_s: float
) -> StepCheck:
    """Return what became of the flights ``jobs``, whose new summaries are ``found``."""
    lowest, lost = np.zeros(len(jobs)), np.zeros(len(jobs))
    turned = []
    for i, ((leg, row), new) in enumerate(zip(jobs, found, strict=True)):
        old = leg.rows[row]
        lowest[i] = abs(new[0, s.R_DROP] - old[s.R_DROP])
        lost[i] = abs(new[0, s.R_HEIGHT_LOST] - old[s.R_HEIGHT_LOST])
        was, became = verdict_codes(np.stack([old, new[0]]), leg.entry_m, leg.floor_m)
        if was != became:
            turned.append(
                Turned(
                    setup=leg.assembled.setup.name,
                    manoeuvre=leg.manoeuvre.name,
                    recovery=leg.recovery.name,
                    draw=int(leg.which[row]),
                    side=float(leg.sides[row]),
                    was=NAMES[was],
                    became=NAMES[became],
                )
            )
    moved = np.maximum(lowest, lost)
    return StepCheck(
        flights=len(jobs),
        step_s=step_s,
        most_lowest_m=float(lowest.max(initial=0.0)),
        most_lost_m=float(lost.max(initial=0.0)),
        median_m=float(np.median(moved)) if len(jobs) else 0.0,
        beyond_centimetre=int((moved > CENTIMETRE).sum()),
        beyond_metre=int((moved > METRE).sum()),
        turned=tuple(turned),
    )
