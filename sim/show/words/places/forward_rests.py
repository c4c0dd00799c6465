"""What a forward limit rests on, and what refutes it: its own values, touch-down, what is flown."""

from sim import tables
from sim.landing.forward import ROTATE, ForwardLimit
from sim.study.standing.window import aft_whole
from sim.units.quantities import LENGTH, SPEED


def nominal_text(forward: ForwardLimit) -> str:
    """Return the forward limit by the file's own values alone, where it lies aft even of that.

    The one place that words it, for study, report and card: of the same limit, but shown by no
    draws, so it stands only beside the one that is, and where even it is not reached.
    """
    if forward.nominal_mm is None or forward.aft_mm is None:
        return ""
    place = f"{LENGTH.at_least(aft_whole(forward.nominal_mm))} {LENGTH}"
    return f"nominal, by the file's own values alone, {place}"


def asks_text(forward: ForwardLimit, slowest_mps: float) -> str:
    """Return what a touch-down slower than a set-up's own slowest flight rests on; maybe empty.

    Parameters
    ----------
    slowest_mps : float
        Its slowest level flight, nominal, as it balances and with its own throws [m/s].
    """
    decided = forward.decided_by
    if decided is None or decided.name == ROTATE or slowest_mps <= decided.speed_mps:
        return ""
    values = tables.landing()
    return (
        f"slower than its own slowest level flight there, {SPEED(slowest_mps, '.1f')} nominal: "
        f"that is asked of the wing, up to {values.most_touchdown_deg:g}° at touch-down, as if the "
        "elevator had the throw for it; with its own it lands faster than such a wing has to, not "
        "that it cannot land ('aftlimit trim --landing' tells how fast)"
    )


def refuted_text(reckoned_mm: float | None, flown_mm: float | None) -> str:
    """Return that a forward limit is not known, as what is flown today lies ahead of it."""
    return (
        f"forward limit NOT KNOWN: {LENGTH.at_least(reckoned_mm)} {LENGTH} by the reckoning, but "
        f"today it is flown, and landed, from {LENGTH.ahead(flown_mm)}; go forward step by step, "
        "and look each time that it lifts its nose and flares (if never flown so, the reckoning "
        "stands)"
    )
