"""What half the step of the integrator did to a sample of flights."""

from dataclasses import dataclass

from sim.judge.verdicts import Verdict


@dataclass(frozen=True)
class Turned:
    """A flight whose verdict is another at half the step."""

    setup: str
    manoeuvre: str
    recovery: str
    draw: int
    side: float
    was: Verdict
    became: Verdict


@dataclass(frozen=True)
class StepCheck:
    """What half the step does to a sample of flights.

    Differences in metres: of the lowest height, and of the height lost from the first
    recovery input. A flight has moved by the larger of its two; ``median_m`` is that of
    these, ``beyond_centimetre`` and ``beyond_metre`` count them.
    """

    flights: int
    step_s: float
    most_lowest_m: float
    most_lost_m: float
    median_m: float
    beyond_centimetre: int
    beyond_metre: int
    turned: tuple[Turned, ...]
