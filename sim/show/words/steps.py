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


def _tumbles(check: StepCheck) -> str:
    """Return why single flights may differ by a lot, where one does."""
    if check.beyond_metre == 0:
        return ""
    return " (a flight that tumbles or falls on is thrown another way by the least thing)"


def step_sentence(check: StepCheck) -> str:
    """Return how far half the step moved the flights, and which verdicts it turned."""
    if check.flights == 0:
        return "No flight was flown again at half the integration step."
    most = max(check.most_lowest_m, check.most_lost_m)
    same, near = (check.flights - x for x in (check.beyond_centimetre, check.beyond_metre))
    text = (
        f"A check of the reckoning: {check.flights} flights were flown again in half the time step "
        f"({500.0 * check.step_s:g} ms). Their heights agree within {_height(0.01)} in {same} of "
        f"them, within {_height(1.0)} in {near}, half within {_height(check.median_m)}; the one "
        f"furthest apart differs by {_height(most)}{_tumbles(check)}; "
    )
    if not check.turned:
        return text + "no verdict turned."
    count = "1 verdict" if len(check.turned) == 1 else f"{len(check.turned)} verdicts"
    return text + f"{count} turned: " + "; ".join(_turned(t) for t in check.turned) + "."
