"""Set the spreads of the build-up's own errors: ``python -m tests.validation.whole_spreads``.

For each error and band of angle of attack: the mean square of measured minus ours over the
development aeroplanes, each counting the same; less the mean variance that the other draws
give already, but never less than half of the difference; its root is the standard deviation.
The first band's goes into uncertainty.toml, the other bands over the first into
error_model.toml. A band without measurements takes the last one's; damping was not measured
and stays judgement.
"""

import sys
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sim.core import layout as k
from sim.fly.tunnel import servo_angles
from sim.show.console import Tables, add, notes, show, table
from tests.validation.whole import DRAWS, Case, development
from tests.validation.whole_data import Found, deflections, find, read
from tests.validation.whole_quantities import Quantity, direct_plain, quantities

# Cures were chosen with these aeroplanes in sight, so the next one will differ by more than
# they do now: never less than this share of the difference is carried (judgement).
LEAST_LEFT = 0.5
SPREAD_BANDS = ((20.0, 35.0), (35.0, 60.0), (60.0, 90.0))


@dataclass(frozen=True)
class Spread:
    """One error in one band: rms difference, what other draws explain, what is left.

    ``aeroplanes`` were measured in it; 0 where the last band's is taken.
    """

    name: str
    band: tuple[float, float]
    aeroplanes: int
    difference: float
    explained: float
    left: float


def normal(found: Found) -> list[Quantity]:
    """Return CN of the plain aeroplane, from CZ or from CL and CD."""
    made = {q.name: q for q in direct_plain(found)}
    if "CZ" in made:
        return [made["CZ"].times(-1.0)]
    lift, drag = made["CL"], made["CD"]
    angle = np.radians(lift.alphas)
    return [lift.times(np.cos(angle)).plus(drag.times(np.sin(angle)))]


def _named(found: Found, name: str) -> list[Quantity]:
    return [q for q in quantities(found) if q.name == name]


def _pitch(found: Found, added: float) -> list[Quantity]:
    return [q.plus_measured(added) for q in direct_plain(found) if q.name == "Cm"]


def _slope(name: str) -> Callable[[Found, float], list[Quantity]]:
    def of(found: Found, added: float) -> list[Quantity]:
        slopes = _named(found, f"{name} per degree of sideslip")
        return [q.times(np.degrees(1.0)) for q in slopes]

    return of


def _power(name: str, controls: tuple[str, ...]) -> Callable[[Found, float], list[Quantity]]:
    def of(found: Found, added: float) -> list[Quantity]:
        out = []
        for control in controls:
            for q in _named(found, f"{name} by {control}"):
                turned = np.array([float(q.labels[c].rstrip("°")) for c in q.curves])
                out.append(q.times(1.0 / (attached(found, name, control) * turned)))
        return out

    return of


def attached(found: Found, name: str, control: str) -> float:
    """Return the change of a moment coefficient per degree of a control in attached flow."""
    ready = found.aeroplane
    ref, errors = ready.weighed.reference, ready.model.errors
    column, length = {
        "Cl": (k.Y_DMX, ref.span_m), "Cm": (k.Y_DMY, ref.mean_chord_m), "Cn": (k.Y_DMZ, ref.span_m),
    }[name]  # fmt: skip
    angles = servo_angles(ready, deflections(ready.aeroplane, control, 1.0), ())
    rows = k.Y_SERVO + k.N_SERVO_EFFECTS * np.arange(angles.size) + column
    return float(errors[rows] @ angles) / (ref.area_m2 * length)


ERRORS: dict[str, Callable[[Found, float], list[Quantity]]] = {
    "normal_force_error": lambda found, added: normal(found),
    "pitch_error": _pitch,
    "yaw_stiffness_error": _slope("Cn"),
    "roll_stiffness_error": _slope("Cl"),
    "tail_power_error": _power("Cm", ("stabilator", "elevator")),
    "rudder_power_error": _power("Cn", ("rudder",)),
    "aileron_power_error": _power("Cl", ("aileron",)),
}


def cases() -> list[Case]:
    """Return the development aeroplanes, each once: the fighter with its tail as measured."""
    return [c for c in development() if c.name != "fighter" and c.data.is_file()]


def spreads(found: list[tuple[Case, Found]]) -> list[Spread]:
    """Return what is left of each error in each band."""
    out: list[Spread] = []
    for name, of in ERRORS.items():
        some = [q for case, f in found for q in of(f, 0.5 * sum(case.pitch_added or (0.0, 0.0)))]
        for band in SPREAD_BANDS:
            squares, variances = [], []
            for q in some:
                here = (q.alphas > band[0]) & (q.alphas <= band[1])
                if here.any():
                    squares.append(float(((q.measured - q.ours)[here] ** 2).mean()))
                    variances.append(float(q.drawn[:, here].var(axis=0).mean()))
            if squares:
                square, variance = float(np.mean(squares)), float(np.mean(variances))
                left = max(square - variance, LEAST_LEFT**2 * square) ** 0.5
                out.append(Spread(name, band, len(squares), square**0.5, variance**0.5, left))
            elif out and out[-1].name == name:
                out.append(
                    Spread(name, band, 0, out[-1].difference, out[-1].explained, out[-1].left)
                )
    return out


def tables(some: list[Spread]) -> Tables:
    """Return what is printed."""
    out = table(
        "Errors of the build-up beyond the stall", "error", "angles", "aeroplanes",
        "difference,\nrms", "explained\nby draws", "left: sd", "over the\nfirst band",
    )  # fmt: skip
    first = {s.name: s.left for s in some if s.band == SPREAD_BANDS[0]}
    for s in some:
        share = s.left / first[s.name] if first[s.name] > 0.0 else float("nan")
        add(
            out, s.name, f"{s.band[0]:g}-{s.band[1]:g}", str(s.aeroplanes) if s.aeroplanes else "-",
            f"{s.difference:.4f}", f"{s.explained:.4f}", f"{s.left:.4f}", f"{share:.2f}",
        )  # fmt: skip
    return [out, *notes(["-: nothing measured there; the band before is carried on."])]


def main() -> int:
    """Print the spreads; 2 where the development data are not there."""
    some = cases()
    if not some:
        print("../shared/data is not there: nothing to set the spreads from", file=sys.stderr)
        return 2
    found = [(c, find(c.load(), read(c.data), DRAWS, errors=False)) for c in some]
    show(tables(spreads(found)))
    return 0


if __name__ == "__main__":
    sys.exit(main())
