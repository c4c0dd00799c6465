"""Physics of the program made wrong on purpose, one thing at a time.

Each mutant changes a table, what a builder returns, or a packed array, within a context:
files, kernels and their compiled cache stay as they are. Their names say what is wrong.
"""

from collections.abc import Callable
from contextlib import AbstractContextManager, ExitStack
from dataclasses import replace
from inspect import signature
from typing import Any, NamedTuple

import numpy as np

from sim.aero.build import AeroArrays
from sim.aero.sections.drooped import PLAIN
from sim.core import layout as k
from sim.core.flights.perturb import ROLE_WING
from sim.core.loads import thrust
from sim.core.loads.lookup import CC, CM, CN, DCC, DCM, DCN
from tests.validation.tampering import named, passed_on, replaced, scaled, table_changed

Context = Callable[[], AbstractContextManager[Any]]
FORCES = [CN, CC, CM, DCN, DCC, DCM]
FINITE_WING = "sim.aero.sections.finite_wing"
VORTEX = "sim.aero.sections.vortex"
TABLES = (
    ("sim.aero.sections.aerofoil", "section_table"),
    ("sim.aero.sections.plates", "plate_table"),
    (VORTEX, "vortex_table"),
)


class Mutant(NamedTuple):
    """A wrong program: its name, how to get it, and what is known of who would notice."""

    name: str
    context: Context
    note: str = ""


def with_argument(
    module: str, name: str, argument: str, change: Callable
) -> AbstractContextManager:
    """Return a context in which one argument of a function is changed on its way in."""
    original = named(module, name)
    form = signature(original)

    def called(*args: Any, **kwargs: Any) -> Any:
        bound = form.bind(*args, **kwargs)
        bound.apply_defaults()
        bound.arguments[argument] = change(bound.arguments[argument])
        return original(*bound.args, **bound.kwargs)

    return replaced(original, called)


def all_of(*contexts: AbstractContextManager) -> AbstractContextManager:
    """Return one context of several."""
    stack = ExitStack()
    for context in contexts:
        stack.enter_context(context)
    return stack


def in_tables(argument: str, change: Callable, count: int = len(TABLES)) -> Context:
    """Change one argument of the functions that make the strips' tables."""
    return lambda: all_of(*(with_argument(*at, argument, change) for at in TABLES[:count]))


def columns(module: str, name: str, which: list[int], factor: float) -> Context:
    """Multiply columns of a table (n, columns) that a function returns."""

    def change(table: np.ndarray) -> np.ndarray:
        out = table.copy()
        out[..., which] *= factor
        return out

    return lambda: passed_on(module, name, change)


def in_aero(change: Callable[[AeroArrays], None]) -> Context:
    """Change the packed aerodynamics of every aeroplane and wing."""

    def changed(aero: AeroArrays) -> AeroArrays:
        out = aero._replace(strips=aero.strips.copy(), surfaces=aero.surfaces.copy())
        change(out)
        return out

    return lambda: passed_on("sim.aero.build", "build_aero", changed)


def longer_tail(factor: float) -> Callable[[AeroArrays], None]:
    """Return what moves tail and fins away from the wing, their lever multiplied."""

    def change(aero: AeroArrays) -> None:
        wing = aero.roles[aero.strip_index[k.SI_SURFACE]] == ROLE_WING
        if wing.all() or not wing.any():
            return
        place, area = aero.strips[k.S_RX], aero.strips[k.S_AREA]
        lever = np.average(place[~wing], weights=area[~wing])
        lever -= np.average(place[wing], weights=area[wing])
        aero.strips[k.S_RX, ~wing] += (factor - 1.0) * lever
        aero.surfaces[:, k.F_WASH_ARM] *= factor

    return change


def surface_columns(which: list[int], factor: float) -> Callable[[AeroArrays], None]:
    """Return what multiplies columns of every surface."""

    def change(aero: AeroArrays) -> None:
        aero.surfaces[:, which] *= factor

    return change


def less_induced(factor: float) -> Callable[[AeroArrays], None]:
    """Return what multiplies the induced angles, and leaves the downwash at the tail."""

    def change(aero: AeroArrays) -> None:
        aero.surfaces[:, [k.F_K0, k.F_K1]] *= factor
        aero.surfaces[:, k.F_WASH_GAIN] /= factor

    return change


def strip_rows(which: list[int], factor: float) -> Callable[[AeroArrays], None]:
    """Return what multiplies rows of every strip."""

    def change(aero: AeroArrays) -> None:
        aero.strips[which] *= factor

    return change


def in_bodies(rows: list[int], factor: float, scalars: tuple[int, ...] = ()) -> Context:
    """Multiply rows, or scalars, of every body."""

    def change(body: tuple[np.ndarray, np.ndarray]) -> tuple[np.ndarray, np.ndarray]:
        strips, par = body[0].copy(), body[1].copy()
        strips[rows] *= factor
        par[list(scalars)] *= factor
        return strips, par

    return lambda: passed_on("sim.aero.geometry.fuselage", "body_arrays", change)


def in_power(field: str, column: int, factor: float) -> Context:
    """Multiply a column of the units or of the propeller's table of every drive."""

    def change(power: Any) -> Any:
        array = getattr(power, field).copy()
        array[:, column] *= factor
        return power._replace(**{field: array})

    return lambda: passed_on("sim.power.packing", "pack_power", change)


def lower_slope(factor: float) -> Context:
    """Multiply the lift slope of sections, of the wings they make, and of plates."""

    def branch(attached: Any) -> Any:
        return attached._replace(cn=factor * attached.cn)

    def context() -> AbstractContextManager:
        return all_of(
            passed_on("sim.aero.sections.aerofoil", "_attached_branch", branch),
            passed_on(FINITE_WING, "datcom_slope", lambda slope: factor * slope),
            passed_on(FINITE_WING, "helmbold_slope", lambda slope: factor * slope),
        )

    return context


def moved_centre(by: float) -> Context:
    """Move the centre of pressure of separated flow, in chords aft."""
    return lambda: passed_on("sim.aero.sections.separated", "centre_of_pressure", lambda x: x + by)


def heavier(factor: float) -> Context:
    """Multiply all moments of inertia."""

    def change(weighed: Any) -> Any:
        return replace(weighed, inertia_kg_m2=factor * weighed.inertia_kg_m2)

    return lambda: passed_on("sim.weigh.weighing", "weigh_set_up", change)


def scaled_keys(name: str, keys: tuple[str, ...], factor: float) -> Context:
    """Multiply keys of a table."""
    return lambda: table_changed(name, keys, lambda value: scaled(value, factor))


DEPTHS = ("depth_surface", "depth_body")
BURST = ("burst_alpha_deg",)
PUSH = [k.B_PUSH, k.B_PUSH_TOP, k.B_PUSH_FALL, k.B_PUSH_TAIL]
LAGS = ("separation_relax_chords", "separation_delay_chords")
# why nothing published and independent notices
NO_WAKE = "nothing published pins it: no measured wake was found, it is judgement and drawn wide"
STATICS = "a lever is geometry of the aeroplane's file: statics checks it, no measurement need"
INDUCED = (
    "nothing measured pins it: of complete aeroplanes one computed drag is at hand, and it lies "
    "outside for want of a body; what is left is theory"
)
RECALLED = "nothing else pins it: the burst angles that are known are what the table is made from"
CYLINDERS = "nothing else pins it: the measured sections are what the body's tables are made from"
HULLS = "nothing measured pins it, only the exact solution for a spheroid; no hull was obtained"
LAGGING = "nothing else pins it: the few lags in print are what the constants were chosen from"
WASHED = (
    "nothing independent pins it closer: the computed flow about a tailplane behind its wing is "
    "known to a fifth; the lattice notices, which is theory, and the measured fighter, on which "
    "the physics was developed"
)
FLAPS = (
    "nothing independent pins it: plain flaps in print made the table, and the measured fighter's "
    "rudder and ailerons, to a half, are what the physics was developed on"
)
NOSES = (
    "nothing independent pins it: the measured fighter notices, but no other aeroplane with its "
    "leading edge down was found"
)
FANS = (
    "nothing published pins it: no fan measured over its flow was found, the trade's efficiencies "
    "are too wide, and how thrust falls with speed is checked on the ideal fan only"
)
MUTANTS = (
    Mutant("plate force x 0.8", columns("sim.aero.sections.plates", "plate_table", FORCES, 0.8)),
    Mutant("post-stall force x 1.15", in_tables("post_stall_factor", lambda x: 1.15 * x)),
    Mutant("post-stall force x 0.85", in_tables("post_stall_factor", lambda x: 0.85 * x)),
    Mutant("centre of pressure beyond stall + 0.05 chord", moved_centre(0.05)),
    Mutant("centre of pressure beyond stall - 0.05 chord", moved_centre(-0.05)),
    Mutant("stall 3 deg later", in_tables("stall_shift_deg", lambda x: x + 3.0, 2)),
    Mutant("stall 3 deg earlier", in_tables("stall_shift_deg", lambda x: x - 3.0, 2)),
    Mutant("wake depth x 0.8", scaled_keys("wake_model.toml", DEPTHS, 0.8), NO_WAKE),
    Mutant("tail lever x 1.1", in_aero(longer_tail(1.1)), STATICS),
    Mutant("downwash x 0.7", in_aero(surface_columns([k.F_WASH_GAIN], 0.7)), WASHED),
    Mutant(
        "a nose turned down pushes along the chord no more than a straight one",
        lambda: with_argument("sim.aero.sections.drooped", "let_go", "nose", lambda _: PLAIN),
        NOSES,
    ),
    Mutant("lift slope x 0.95", lower_slope(0.95)),
    Mutant("induced angle and drag x 0.9", in_aero(less_induced(0.9)), INDUCED),
    Mutant(
        "vortex lift x 0.8",
        lambda: with_argument(VORTEX, "vortex_table", "kv", lambda kv: 0.8 * kv),
    ),
    Mutant("vortex burst x 1.25", scaled_keys("vortex_burst.csv", BURST, 1.25), RECALLED),
    Mutant("body cross-flow x 0.8", in_bodies([k.B_CD_SIDE, k.B_CD_FACE], 0.8), CYLINDERS),
    Mutant("body side force x 0.5", in_bodies(PUSH, 0.5), CYLINDERS),
    Mutant("Munk moment x 0.8", in_bodies([], 0.8, (k.BP_MUNK_FACTOR,)), HULLS),
    Mutant("separation lag x 1.5", scaled_keys("strip_model.toml", LAGS, 1.5), LAGGING),
    Mutant(
        "flap effect x 0.8", in_aero(strip_rows([k.S_TAU, k.S_FLAP_STALL, k.S_DCM], 0.8)), FLAPS
    ),
    Mutant(
        "a flap carries twice its share of separated flow's force",
        lambda: passed_on("sim.aero.sections.flaps", "separated_load", lambda x: 2.0 * x), FLAPS,
    ),
    Mutant(
        "a wing between its strakes lets go as if it had an edge there",
        lambda: passed_on("sim.aero.interference.separating", "_own_edge", np.ones_like), LAGGING,
    ),
    Mutant("inertia x 1.1", heavier(1.1)),
    Mutant(
        "fan pressure falls 1.3 times as fast with flow",
        in_power("units", thrust.U_PSI_SLOPE, 1.3), FANS,
    ),
    Mutant("fan pressure x 0.9", in_power("units", thrust.U_PSI_ZERO, 0.9), FANS),
    Mutant("propeller thrust x 0.9", columns(
        "sim.power.propeller", "propeller_table", [thrust.PROP_THRUST], 0.9)),
)  # fmt: skip
