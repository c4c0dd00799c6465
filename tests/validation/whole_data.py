"""Measured coefficients of a complete aeroplane, read from a file, and ours at the same points.

A data file is a CSV with comment lines (#) first, in one of two forms. Angles in degrees,
moments about the balance point of the aeroplane file's first set-up, coefficients on its own
wing area, span and mean chord.

- one value a line: ``coefficient, control, deflection_deg, alpha_deg, beta_deg, value``.
  Coefficients CX, CY, CZ, Cl, Cm, Cn on body axes (x forward, y right, z down), or CL, CD.
  Control is none, stabilator or elevator (plus: trailing edge down), rudder (plus: to the
  left), or aileron (plus: right one down, left one up), as NASA reports have them.
  Clp, Cnp, Cmq, Clr, Cnr are rate derivatives [1/rad] by forced oscillation about a body axis,
  over pb/2V, qc/2V, rb/2V: ours swings as `SWING_DEG` and `REDUCED` say.
- one angle a line: ``alpha_deg`` and any of CL, CD, Cm, CX, CZ; a name with ``_off`` is with
  the tailplane taken away, an empty cell was not measured.
"""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

import numpy as np

from sim.core.draw_layout import ERROR_NAMES as NAMES_OF_ERRORS
from sim.describe import Aeroplane
from sim.fly.tunnel.coefficients import StaticCoefficients, coefficients
from sim.fly.tunnel.forced_oscillation import Axis, forced_oscillation
from sim.fly.tunnel.reference import TunnelReference
from sim.pack.assemble import Assembled, assemble
from sim.study.flights.draws import make_draws

STATIC = ("CX", "CY", "CZ", "Cl", "Cm", "Cn", "CL", "CD")
BY_SWING: dict[Axis, tuple[str, ...]] = {
    "roll": ("Clp", "Cnp"), "pitch": ("Cmq",), "yaw": ("Clr", "Cnr"),
}  # fmt: skip
NAMES = (*STATIC, *(name for names in BY_SWING.values() for name in names))
# usual of such tests (from memory): half the swing, and omega c/2V or omega b/2V
SWING_DEG = 5.0
REDUCED: dict[Axis, float] = {"roll": 0.15, "pitch": 0.05, "yaw": 0.15}
LONG = ("coefficient", "control", "deflection_deg", "alpha_deg", "beta_deg", "value")
# a tunnel's model is weighed, rigged and set exactly: what the air does is all that is drawn
NOT_AIR = frozenset({
    "mass", "balance_aft", "balance_right", "balance_up", "spread_lengthwise", "spread_sideways",
    "spread_upwards", "throw", "linkage", "wing_rig", "fin_rig", "servo_rate", "thrust",
    "pilot_delay", "wind", "turbulence",
})  # fmt: skip
SEED = 1


class State(NamedTuple):
    """What is measured together, over angles of attack."""

    control: str
    deflection_deg: float
    beta_deg: float
    tail: bool


class Place(NamedTuple):
    """A coefficient, a state and an angle of attack."""

    coefficient: str
    state: State
    alpha_deg: float


PLAIN = State("none", 0.0, 0.0, True)


def read(path: Path) -> dict[Place, float]:
    """Return the measured value at each place of a data file.

    Raises
    ------
    ValueError
        Columns or a coefficient that are none of those above, or a cell that is no number.
    """
    with path.open(encoding="utf-8") as stream:
        lines = [line for line in stream if not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    names = list(rows[0]) if rows else []
    wide = [n for n in names if n.removesuffix("_off") in STATIC]
    if set(LONG) <= set(names):
        pairs = _long(rows)
    elif "alpha_deg" in names and wide:
        pairs = _wide(rows, wide)
    else:
        raise ValueError(
            f"{path.name}: columns are {', '.join(names) or 'none'}; must be {', '.join(LONG)}, or "
            "alpha_deg and coefficients such as CL, CD, Cm, CL_off"
        )
    try:
        out = dict(pairs)
    except (TypeError, ValueError) as fault:
        raise ValueError(f"{path.name}: {fault}") from None
    unknown = {p.coefficient for p in out} - set(NAMES)
    if unknown:
        raise ValueError(f"{path.name}: coefficient {min(unknown)!r}; known: {', '.join(NAMES)}")
    return out


def _long(rows: list[dict[str, str]]) -> Iterator[tuple[Place, float]]:
    for row in rows:
        deflection = float(row["deflection_deg"])
        control = row["control"] if deflection != 0.0 else "none"
        state = State(control, deflection, float(row["beta_deg"]), True)
        yield Place(row["coefficient"], state, float(row["alpha_deg"])), float(row["value"])


def _wide(rows: list[dict[str, str]], names: list[str]) -> Iterator[tuple[Place, float]]:
    for row in rows:
        for name in names:
            if row[name]:
                state = PLAIN._replace(tail=not name.endswith("_off"))
                at = float(row["alpha_deg"])
                yield Place(name.removesuffix("_off"), state, at), float(row[name])


def deflections(aeroplane: Aeroplane, control: str, angle: float) -> dict[str, float]:
    """Return a deflection by the aeroplane's own channels; see above for signs.

    Raises
    ------
    ValueError
        A control that the aeroplane lacks, or that is none of those above.
    """
    if control == "none":
        return {}
    stick = {"stabilator": "elevator", "elevator": "elevator"}.get(control, control)
    shares = {n: c.stick for n, c in aeroplane.channels.items()}
    moved = [n for n, share in shares.items() if getattr(share, stick, 0.0) != 0.0]
    # a tail that helps to roll is no aileron here, elevons are
    alone = [n for n in moved if stick == "elevator" or shares[n].elevator == 0.0]
    moved = alone or moved
    if not moved:
        raise ValueError(f"control {control!r}: nothing on {aeroplane.name} moves as one")
    if stick == "rudder":
        return dict.fromkeys(moved, -angle)
    if stick == "aileron":
        sides = (("right", angle), ("left", -angle))
        return {f"{name} {side}": turn for name in moved for side, turn in sides}
    return dict.fromkeys(moved, angle)


def without_tail(aeroplane: Aeroplane) -> Aeroplane:
    """Return the aeroplane without tailplanes; its balance point need not be had any more."""
    gone = {s.name for s in aeroplane.surfaces_as("tail")}
    first = aeroplane.setups[aeroplane.first_setup]
    placed = first.model_copy(
        update={"balance_aft_mm": None, "pack_aft_mm": aeroplane.tray.front_aft_mm}
    )
    return aeroplane.model_copy(
        update={
            "surfaces": tuple(s for s in aeroplane.surfaces if s.name not in gone),
            "airframe": tuple(a for a in aeroplane.airframe if a.of not in gone),
            "setups": {**aeroplane.setups, aeroplane.first_setup: placed},
        }
    )


@dataclass(frozen=True)
class Found:
    """Measured values (n,) and ours: nominal (n,) and as drawn (k, n), at the same places."""

    measured: dict[Place, float]
    nominal: dict[Place, float]
    drawn: dict[Place, np.ndarray]
    aeroplane: Assembled


def draws_of(assembled: Assembled, count: int, errors: bool = True) -> np.ndarray:
    """Return draws (count, N_DRAW) of what the air does; a tunnel knows the rest exactly.

    ``errors`` False leaves the build-up's own errors out too.
    """
    draws = make_draws(assembled.spreads, count, SEED).physical
    out = NOT_AIR | (frozenset() if errors else frozenset(NAMES_OF_ERRORS))
    draws[:, [s.name in out for s in assembled.spreads]] = 0.0
    return draws


def find(
    aeroplane: Aeroplane, measured: dict[Place, float], count: int, errors: bool = True
) -> Found:
    """Return ours at the places that were measured, nominal and for draws as `draws_of` has."""
    for state in dict.fromkeys(p.state for p in measured):
        deflections(aeroplane, state.control, state.deflection_deg)  # refused before the work
    whole = assemble(aeroplane)
    draws = np.vstack([np.zeros((1, len(whole.spreads))), draws_of(whole, count, errors)])
    bare = assemble(without_tail(aeroplane)) if any(not p.state.tail for p in measured) else whole
    nominal: dict[Place, float] = {}
    drawn: dict[Place, np.ndarray] = {}
    for state in dict.fromkeys(p.state for p in measured):
        flown = whole if state.tail else bare
        places = [p for p in measured if p.state == state]
        for axis, names in ((None, STATIC), *BY_SWING.items()):
            some = [p for p in places if p.coefficient in names]
            if not some:
                continue
            angles = sorted({p.alpha_deg for p in some})
            ours = _ours(flown, whole, state, axis, np.array(angles), draws)
            for place in some:
                column = ours[place.coefficient][:, angles.index(place.alpha_deg)]
                nominal[place], drawn[place] = float(column[0]), column[1:]
    return Found(measured, nominal, drawn, whole)


def _ours(
    flown: Assembled, whole: Assembled, state: State, axis: Axis | None, alphas: np.ndarray,
    draws: np.ndarray,
) -> dict[str, np.ndarray]:  # fmt: skip
    """Return our values (k, n): static coefficients, or what a swing about an axis shows."""
    if axis is None:
        static = measure(flown, whole, state, alphas, draws)
        return {name: getattr(static, name) for name in STATIC}
    found = forced_oscillation(
        flown, axis=axis, alpha_deg=alphas, beta_deg=state.beta_deg, draws=draws,
        amplitude_deg=SWING_DEG, reduced_frequency=REDUCED[axis], reference=_about(whole),
        deflections_deg=deflections(flown.aeroplane, state.control, state.deflection_deg),
    )  # fmt: skip
    return {name: np.asarray(getattr(found.out_of_phase, name[:2])) for name in BY_SWING[axis]}


def _about(whole: Assembled) -> TunnelReference:
    back, _, down = 1000.0 * whole.weighed.balance_m
    return TunnelReference(aft_mm=-float(back), up_mm=-float(down))


def measure(
    flown: Assembled, whole: Assembled, state: State, alphas: np.ndarray, draws: np.ndarray
) -> StaticCoefficients:
    """Return our coefficients (k, n) in a state; references are the whole aeroplane's."""
    return coefficients(
        flown, alpha_deg=alphas, beta_deg=state.beta_deg, draws=draws, reference=_about(whole),
        deflections_deg=deflections(flown.aeroplane, state.control, state.deflection_deg),
    )  # fmt: skip
