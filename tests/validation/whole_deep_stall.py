"""Can the nose still be lowered between 30 and 70 degrees? Measured and ours.

The margin is the least nose-down Cm there: minus its greatest value, below 0 where it hangs.
Further aft by x chords Cm grows by CN x, so the balance at which it hangs is that at which
the greatest Cm just reaches nought.
"""

from dataclasses import dataclass

import numpy as np

from sim.fly.tunnel.coefficients import coefficients
from tests.validation.whole_data import PLAIN, Found, Place, State, draws_of

RANGE_DEG = (30.0, 70.0)
Curve = tuple[np.ndarray, np.ndarray, np.ndarray]
ALPHAS_DEG = np.arange(RANGE_DEG[0], RANGE_DEG[1] + 0.5, 2.5)


@dataclass(frozen=True)
class Hang:
    """One state's margin and where it hangs [% MAC]; ``spread`` are 95 % of draws."""

    whose: str
    state: str
    up_to_deg: float
    margin: float
    hangs_pct: float
    margin_spread: tuple[float, float] | None = None
    hangs_spread: tuple[float, float] | None = None


def hang(
    pitch: np.ndarray, normal: np.ndarray, balance_pct: float
) -> tuple[np.ndarray, np.ndarray]:
    """Return margin and balance [% MAC] at which it hangs from Cm and CN (..., n)."""
    return -pitch.max(axis=-1), balance_pct + 100.0 * (-pitch / normal).min(axis=-1)


def deep_stall(found: Found, pitch_added: tuple[float, float] | None) -> list[Hang]:
    """Return measured rows as far as there are any, and ours: neutral and full down."""
    out: list[Hang] = []
    for more, note in [(0.0, "")] + [(x, f", {x:+.2f} added") for x in pitch_added or ()]:
        out += _measured(found, more, note)
    ready = found.aeroplane
    tails = {n: c.down_deg for n, c in ready.aeroplane.channels.items() if c.stick.elevator != 0.0}
    draws = np.vstack(
        [np.zeros((1, len(ready.spreads))), draws_of(ready, len(next(iter(found.drawn.values()))))]
    )
    for state, angles in (("neutral", {}), (f"full down, {max(tails.values()):g}°", tails)):
        ours = coefficients(ready, alpha_deg=ALPHAS_DEG, deflections_deg=angles, draws=draws)
        margin, pct = hang(ours.Cm, -ours.CZ, ready.weighed.balance_pct_mac)
        ends = [tuple(np.percentile(x[1:], (2.5, 97.5))) for x in (margin, pct)]
        out.append(Hang("ours", state, RANGE_DEG[1], margin[0], pct[0], ends[0], ends[1]))
    return out


def _measured(found: Found, more: float, note: str) -> list[Hang]:
    """Return rows of the measured curves, and of full down carried on by its last increment."""
    balance = found.aeroplane.weighed.balance_pct_mac
    curves = {
        state: _curve(found, state)
        for state in dict.fromkeys(p.state for p in found.measured)
        if state.beta_deg == 0.0
        and state.tail
        and state.control in ("none", "stabilator", "elevator")
    }
    out = []
    down = max(curves, key=lambda s: s.deflection_deg)
    for state in dict.fromkeys((PLAIN, down)):
        alpha, pitch, normal = curves[state]
        here = (alpha >= RANGE_DEG[0]) & (alpha <= RANGE_DEG[1])
        if not here.any():
            continue
        margin, pct = hang(pitch[here] + more, normal[here], balance)
        word = "neutral" if state == PLAIN else f"{state.control} {state.deflection_deg:g}°"
        out.append(Hang("measured", word + note, alpha[here].max(), float(margin), float(pct)))
    if down != PLAIN:
        out.append(_carried_on(curves[PLAIN], curves[down], balance, more, note))
    return out


def _carried_on(plain: Curve, down: Curve, balance: float, more: float, note: str) -> Hang:
    """Return full down where it was not measured: neutral and the last measured increment.

    The increment falls with angle where it was measured, so neutral is the other bound.
    """
    alpha, pitch, normal = plain
    last = down[0].max()
    gain = down[1][-1] - np.interp(last, alpha, pitch)
    push = down[2][-1] - np.interp(last, alpha, normal)
    here = (alpha >= RANGE_DEG[0]) & (alpha <= RANGE_DEG[1])
    known = np.isin(alpha, down[0])
    full = np.where(known, np.interp(alpha, down[0], down[1]), pitch + gain)
    force = np.where(known, np.interp(alpha, down[0], down[2]), normal + push)
    margin, pct = hang(full[here] + more, force[here], balance)
    words = f"full down, its gain at {last:g}° kept beyond{note}"
    return Hang("measured", words, RANGE_DEG[1], float(margin), float(pct))


def _curve(found: Found, state: State) -> Curve:
    """Return angles (n,), Cm and CN that were measured in a state."""
    angles = sorted(
        p.alpha_deg for p in found.measured if p.state == state and p.coefficient == "Cm"
    )
    pitch = np.array([found.measured[Place("Cm", state, a)] for a in angles])
    normal = np.array([_normal(found, state, a) for a in angles])
    return np.array(angles), pitch, normal


def _normal(found: Found, state: State, alpha: float) -> float:
    if Place("CZ", state, alpha) in found.measured:
        return -found.measured[Place("CZ", state, alpha)]
    lift, drag = (found.measured[Place(c, state, alpha)] for c in ("CL", "CD"))
    return float(lift * np.cos(np.radians(alpha)) + drag * np.sin(np.radians(alpha)))
