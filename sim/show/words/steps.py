"""What the check of the step found, in a sentence for console and report."""

from sim.show.words.phrases import spoken
from sim.study.results.stepped import StepCheck, Turned
from sim.units.quantities import HEIGHT, LENGTH


def _height(metres: float) -> str:
    """Return a height in the unit it is best read in."""
    if metres >= 1.0:
        return HEIGHT(metres)
    if metres >= 0.01:
        return f"{100.0 * metres:.0f} cm" if HEIGHT.is_default else HEIGHT(metres, ".1f")
    return LENGTH(1000.0 * metres, ".1f")


def _turned(flight: Turned) -> str:
    side = "right" if flight.side > 0.0 else "left"
    flown = f"{spoken(flight.manoeuvre)}, {spoken(flight.recovery)}, draw {flight.draw}"
    return f"{flight.setup}, {flown} to the {side} ({flight.was} to {flight.became})"


def step_sentence(check: StepCheck) -> str:
    """Return how far half the step moved the flights, and which verdicts it turned."""
    if check.flights == 0:
        return "No flight was flown again at half the integration step."
    most = max(check.most_lowest_m, check.most_lost_m)
    text = (
        f"Flown again at half the integration step ({500.0 * check.step_s:g} ms), "
        f"{check.beyond_centimetre} of {check.flights} flights moved by more than {_height(0.01)} "
        f"of height, {check.beyond_metre} by more than {_height(1.0)} (half of them by less than "
        f"{_height(check.median_m)}, the most {_height(most)}); "
    )
    if not check.turned:
        return text + "no verdict turned."
    count = "1 verdict" if len(check.turned) == 1 else f"{len(check.turned)} verdicts"
    return text + f"{count} turned: " + "; ".join(_turned(t) for t in check.turned) + "."
