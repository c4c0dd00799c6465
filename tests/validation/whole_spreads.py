"""Set the spreads of the build-up's own errors: ``python -m tests.validation.whole_spreads``.

It prints them; with ``--write`` it puts them into the tables as well.

For each error and band of angle of attack: the mean square of measured minus ours over the
development aeroplanes, each counting the same; less the mean variance that the other draws
give already, but beyond the stall never less than half of the difference; its root is the
standard deviation. That of 20 to 35 degrees goes into uncertainty.toml, all bands over it into
error_model.toml. A band without measurements takes the last one's, and beyond the stall the air
from above none less than the air from below; damping was not measured and stays judgement.

Of the pitching moment in attached flow the mean difference is the trim error, what is left the
pitch error's: the one is trimmed away, the other moves the neutral point. Forces of tail and
rudder err by the share that their moments do already: of what is left, this is explained too.
"""

import sys
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from sim.core import error_layout as e
from sim.fly.tunnel.reference import servo_angles
from sim.show.console.console import Tables, add, notes, show, table
from sim.tables.reading import tables_folder
from tests.validation import spread_tables
from tests.validation.whole import DRAWS, Case, development
from tests.validation.whole_data import Found, deflections, find, read
from tests.validation.whole_quantities import Quantity, direct_plain, quantities

# Cures were chosen with these aeroplanes in sight, so the next one will differ by more than
# they do now: never less than this share of the difference is carried (judgement).
LEAST_LEFT = 0.5
# one a node of error_model.toml
SPREAD_BANDS = (
    (-2.5, 2.5), (2.5, 12.0), (12.0, 20.0), (20.0, 35.0), (35.0, 60.0), (60.0, 90.0),
)  # fmt: skip
# the same with the air from above, from level on
ABOVE_BANDS = tuple((-to, -start) for start, to in SPREAD_BANDS[1:])
ATTACHED = (-2.5, 20.0)
STALL_AT = 3
STALLED = SPREAD_BANDS[STALL_AT]  # whose spread stands in uncertainty.toml


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
    """Return CN of the plain aeroplane, from CZ or from CL and CD, if it has them."""
    made = {q.name: q for q in direct_plain(found)}
    if "CZ" in made:
        return [made["CZ"].times(-1.0)]
    return _of_lift_and_drag(made, np.cos, np.sin)


def axial(found: Found) -> list[Quantity]:
    """Return CX of the plain aeroplane, from CX or from CL and CD, if it has them."""
    made = {q.name: q for q in direct_plain(found)}
    if "CX" in made:
        return [made["CX"]]
    return _of_lift_and_drag(made, np.sin, lambda angle: -np.cos(angle))


def _of_lift_and_drag(
    made: dict[str, Quantity], of_lift: Callable, of_drag: Callable
) -> list[Quantity]:
    """Return the sum of CL and CD, each times a function of the angle of attack."""
    if not {"CL", "CD"} <= made.keys():
        return []
    angle = np.radians(made["CL"].alphas)
    return [made["CL"].times(of_lift(angle)).plus(made["CD"].times(of_drag(angle)))]


def _named(found: Found, name: str) -> list[Quantity]:
    return [q for q in quantities(found) if q.name == name]


def _pitch(found: Found, added: float) -> list[Quantity]:
    """Return Cm, in attached flow without the mean of the difference, which `_trim` has."""
    out = []
    for q in (q.plus_measured(added) for q in direct_plain(found) if q.name == "Cm"):
        here = _attached(q)
        if not here.any():
            out.append(q)
            continue
        # the elevator that trims it away stands as it is with the air from above
        trimmed = np.abs(q.alphas) <= ATTACHED[1]
        shift = np.where(trimmed, (q.ours - q.measured)[here].mean(), 0.0)
        mean = (q.drawn - q.ours)[:, here].mean(axis=1)[:, None]
        drawn = q.drawn - np.where(trimmed, mean, 0.0)
        out.append(replace(q, ours=q.ours - shift, drawn=drawn))
    return out


def _trim(found: Found, added: float) -> list[Quantity]:
    """Return the mean of Cm over attached flow, at each of its angles."""
    out = []
    for q in (q.plus_measured(added) for q in direct_plain(found) if q.name == "Cm"):
        here = _attached(q)
        if not here.any():
            continue
        ones = np.ones(int(here.sum()))
        out.append(
            replace(
                q, alphas=q.alphas[here], curves=q.curves[here],
                measured=q.measured[here].mean() * ones, ours=q.ours[here].mean() * ones,
                drawn=q.drawn[:, here].mean(axis=1)[:, None] * ones,
            )
        )  # fmt: skip
    return out


def _attached(q: Quantity) -> np.ndarray:
    return (q.alphas > ATTACHED[0]) & (q.alphas <= ATTACHED[1])


def _slope(name: str) -> Callable[[Found, float], list[Quantity]]:
    def of(found: Found, added: float) -> list[Quantity]:
        slopes = _named(found, f"{name} per degree of sideslip")
        return [q.times(np.degrees(1.0)) for q in slopes]

    return of


def _power(
    name: str, controls: tuple[str, ...], of_name: str = ""
) -> Callable[[Found, float], list[Quantity]]:
    def of(found: Found, added: float) -> list[Quantity]:
        out = []
        for control in controls:
            for q in _named(found, f"{name} by {control}"):
                turned = np.array([float(q.labels[c].rstrip("°")) for c in q.curves])
                share = attached(found, of_name or name, control)
                out.append(q.times(1.0 / (share * turned)))
        return out

    return of


def attached(found: Found, name: str, control: str) -> float:
    """Return the change of a coefficient per degree of a control in attached flow."""
    ready = found.aeroplane
    ref, errors = ready.weighed.reference, ready.model.errors
    column, length = {
        "CY": (e.Y_DFY, 1.0), "CZ": (e.Y_DFZ, 1.0), "Cl": (e.Y_DMX, ref.span_m),
        "Cm": (e.Y_DMY, ref.mean_chord_m), "Cn": (e.Y_DMZ, ref.span_m),
    }[name]  # fmt: skip
    angles = servo_angles(ready, deflections(ready.aeroplane, control, 1.0), ())
    rows = e.Y_SERVO + e.N_SERVO_EFFECTS * np.arange(angles.size) + column
    return float(errors[rows] @ angles) / (ref.area_m2 * length)


ERRORS: dict[str, Callable[[Found, float], list[Quantity]]] = {
    "normal_force_error": lambda found, added: normal(found),
    "pitch_error": _pitch,
    "yaw_stiffness_error": _slope("Cn"),
    "roll_stiffness_error": _slope("Cl"),
    "tail_power_error": _power("Cm", ("stabilator", "elevator")),
    "rudder_power_error": _power("Cn", ("rudder",)),
    "aileron_power_error": _power("Cl", ("aileron",)),
    "axial_force_error": lambda found, added: axial(found),
    "side_force_error": _slope("CY"),
    "trim_error": _trim,
    "aileron_yaw_error": _power("Cn", ("aileron",), "Cl"),
    "aileron_side_error": _power("CY", ("aileron",), "Cl"),
    "tail_lift_error": _power("CZ", ("stabilator", "elevator")),
    "tail_drag_error": _power("CX", ("stabilator", "elevator"), "CZ"),
    "rudder_side_error": _power("CY", ("rudder",)),
    "rudder_roll_error": _power("Cl", ("rudder",), "Cn"),
}
# forces that another error moves by the same share as its moment: what that gives is explained
BESIDE = {"tail_lift_error": "tail_power_error", "rudder_side_error": "rudder_power_error"}
# what turns over with the angle is nothing at none; what is trimmed away is gone with the stall
NONE_IN = {
    "normal_force_error": SPREAD_BANDS[:1],
    "pitch_error": SPREAD_BANDS[:1],
    "trim_error": SPREAD_BANDS[STALL_AT:] + ABOVE_BANDS[STALL_AT - 1 :],
    # how far its ailerons reach is a guess in the file of the only one measured
    "aileron_power_error": SPREAD_BANDS[:STALL_AT] + ABOVE_BANDS[: STALL_AT - 1],
}


def cases() -> list[Case]:
    """Return the development aeroplanes, each once: the fighter with its tail as measured."""
    return [c for c in development() if c.name != "fighter" and c.data.is_file()]


def spreads(found: list[tuple[Case, Found]]) -> list[Spread]:
    """Return what is left of each error in each band."""
    out: list[Spread] = []
    for name, of in ERRORS.items():
        some = [
            (case, q) for case, f in found for q in of(f, 0.5 * sum(case.pitch_added or (0.0, 0.0)))
        ]
        here = [q for _, q in some]
        mine: list[Spread] = []
        for band in SPREAD_BANDS + ABOVE_BANDS:
            if band in NONE_IN.get(name, ()):
                mine.append(Spread(name, band, 0, 0.0, 0.0, 0.0))
            elif (made := _spread(name, band, here, _moved(out, name, band))) is not None:
                mine.append(_no_less(made, mine))
            elif mine:
                mine.append(_carried(mine, band))
        out += mine
    return out


def _no_less(spread: Spread, made: list[Spread]) -> Spread:
    """Return a spread with the air from above, beyond the stall no less than from below."""
    if spread.band not in ABOVE_BANDS[STALL_AT - 1 :]:
        return spread
    return replace(spread, left=max([spread.left, *(s.left for s in _below(made, spread.band))]))


def _carried(made: list[Spread], band: tuple[float, float]) -> Spread:
    """Return the spread of a band without measurements from those before."""
    if band in SPREAD_BANDS:
        return replace(made[-1], band=band, aeroplanes=0)
    last = [s for s in made if s.band in ABOVE_BANDS] or made
    most = max([*_below(made, band), last[-1]], key=lambda s: s.left)
    return replace(most, band=band, aeroplanes=0)


def _below(made: list[Spread], band: tuple[float, float]) -> list[Spread]:
    """Return the spread, if any, in the band of the same angles with the air from below."""
    return [s for s in made if s.band == (-band[1], -band[0])]


def _moved(made: list[Spread], name: str, band: tuple[float, float]) -> float:
    """Return by what an error moves already with another one, 0 for most."""
    other = BESIDE.get(name)
    return next((s.left for s in made if (s.name, s.band) == (other, band)), 0.0)


def _spread(
    name: str, band: tuple[float, float], some: list[Quantity], moved: float
) -> Spread | None:
    """Return what is left in one band, None where nothing was measured.

    ``moved`` is the standard deviation that another error gives it.
    """
    squares, variances = [], []
    for q in some:
        here = _within(q.alphas, band)
        if here.any():
            squares.append(float(((q.measured - q.ours)[here] ** 2).mean()))
            variances.append(float(q.drawn[:, here].var(axis=0).mean()))
    if not squares:
        return None
    square, variance = float(np.mean(squares)), float(np.mean(variances)) + moved**2
    least = LEAST_LEFT**2 * square if min(abs(band[0]), abs(band[1])) >= STALLED[0] else 0.0
    left = max(square - variance, least) ** 0.5
    return Spread(name, band, len(squares), square**0.5, variance**0.5, left)


def _within(alphas: np.ndarray, band: tuple[float, float]) -> np.ndarray:
    if band in ABOVE_BANDS:
        return (alphas < band[1]) & (alphas >= band[0])
    return (alphas > band[0]) & (alphas <= band[1])


def tables(some: list[Spread]) -> Tables:
    """Return what is printed."""
    out = table(
        "Errors of the build-up", "error", "angles", "aeroplanes",
        "difference,\nrms", "explained\nby draws", "left: sd", "over that\nof 20-35",
    )  # fmt: skip
    first = {s.name: s.left for s in some if s.band == STALLED}
    for s in some:
        share = s.left / first[s.name] if first[s.name] > 0.0 else float("nan")
        add(
            out, s.name, f"{s.band[0]:g}-{s.band[1]:g}", str(s.aeroplanes) if s.aeroplanes else "-",
            f"{s.difference:.4f}", f"{s.explained:.4f}", f"{s.left:.4f}", f"{share:.2f}",
        )  # fmt: skip
    text = "-: nothing measured there; the band before, or the air from below, is carried on."
    return [out, *notes([text])]


def main(words: list[str]) -> int:
    """Print the spreads, and write them if asked; 2 where the development data are not there."""
    if words not in ([], ["--write"]):
        print(f"{' '.join(words)}: --write or nothing", file=sys.stderr)
        return 2
    some = cases()
    if not some:
        print("../shared/data is not there: nothing to set the spreads from", file=sys.stderr)
        return 2
    found = [(c, find(c.load(), read(c.data), DRAWS, errors=False)) for c in some]
    made = spreads(found)
    show(tables(made))
    if words:
        lefts = {name: [s.left for s in made if s.name == name] for name in ERRORS}
        count = len(SPREAD_BANDS)
        for path in spread_tables.write(tables_folder(), lefts, STALL_AT, count):
            print(path)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
