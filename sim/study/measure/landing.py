"""What measuring would change of a forward limit: reckoned again by draws that spread less."""

from collections.abc import Callable, Sequence

from sim.core.draw_layout import DRAW_COLUMNS
from sim.fly.columns import Floats
from sim.pack.measurable import Measurement
from sim.study.results.measuring import LandingPromise

# what of the draws a slow approach hangs on, power off and wings level
LANDS = {
    "balance_aft", "downwash", "mass", "nose_moment", "pitch_error", "stall_angle", "tail_force",
    "throw", "wing_force",
}  # fmt: skip
MOST = 3
LEAST_MM = 1.0  # less is not told


def landing_promises(
    wishes: Sequence[Measurement],
    draws: Floats,
    now_mm: float,
    limit_of: Callable[[Floats], float | None],
) -> tuple[LandingPromise, ...]:
    """Return the measurements that bring a forward limit furthest ahead, the best first.

    Own: every draw that a measurement narrows comes nearer to nought by what is left of its spread.

    Parameters
    ----------
    draws : float array (n, N_DRAW)
        Offsets in physical units, those that gave the limit at ``now_mm`` [mm aft].
    limit_of : callable
        Returns the forward limit [mm aft] that draws give, None where none is found.
    """
    out = []
    for wish in wishes:
        if not LANDS & {x.draw for x in wish.narrowed}:
            continue
        aft = limit_of(narrowed(draws, wish))
        if aft is not None and now_mm - aft >= LEAST_MM:
            out.append(LandingPromise(wish.text, wish.measure, aft))
    return tuple(sorted(out, key=lambda x: x.aft_mm)[:MOST])


def narrowed(draws: Floats, wish: Measurement) -> Floats:
    """Return draws (n, N_DRAW) as they would lie with something measured."""
    out = draws.copy()
    for x in wish.narrowed:
        out[:, DRAW_COLUMNS[x.draw]] *= x.then / x.now
    return out
