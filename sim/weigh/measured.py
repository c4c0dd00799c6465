"""Home measurements: scales, balance stand and swings against the ledger.

What the pack and the loose weights weigh is known, so a difference is put down to what is
in the aeroplane in every set-up: its mass is scaled, its centre shifted along the body, and
its own inertias changed. In the set-up that was measured the totals then agree with the
measurement; in another, the same airframe carries another pack.
"""

import math
from dataclasses import dataclass

import numpy as np

from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.describe import Fault, FileFault, Measured, SwingTest
from sim.units.quantities import INERTIA, LENGTH, MASS
from sim.weigh.ledger import Total, total
from sim.weigh.solids import Array, Lump

AXIS_NAMES = ("roll", "pitch", "yaw")


@dataclass(frozen=True)
class Correction:
    """What the measurements do to the fixed lumps.

    Parameters
    ----------
    mass_factor : float
        On the mass of every fixed lump.
    shift_aft_mm : float
        Of every fixed lump.
    inertia_kg_m2 : array, shape (3,)
        Added to the roll, pitch and yaw inertia.
    notes : tuple of str
        The differences in words.
    """

    mass_factor: float
    shift_aft_mm: float
    inertia_kg_m2: Array
    notes: tuple[str, ...]


NO_CORRECTION = Correction(1.0, 0.0, np.zeros(3), ())


def swing_inertia(
    *, mass_kg: float, wire_spacing_m: float, wire_length_m: float, period_s: float
) -> float:
    """Return the moment of inertia about the vertical from a bifilar swing [kg m²].

    I = m g D² T² / (16 π² L), two parallel wires of length L a distance D apart, small swings
    of period T: [jardin2009], derived here from the small-angle restoring moment. The air
    carried along is in it: up to a quarter too much on a light model (common practice, no
    source).
    """
    square = (wire_spacing_m * period_s) ** 2
    return mass_kg * STANDARD_GRAVITY * square / (16.0 * math.pi**2 * wire_length_m)


def from_swing(test: SwingTest) -> float:
    """Return the moment of inertia [kg m²] of a swing test as a file gives it.

    Units only: [jardin2009] by `swing_inertia`.
    """
    return swing_inertia(
        mass_kg=test.mass_g / 1000.0,
        wire_spacing_m=test.wire_spacing_mm / 1000.0,
        wire_length_m=test.wire_length_mm / 1000.0,
        period_s=test.period_s,
    )


def correct(measured: Measured, fixed: list[Lump], carried: list[Lump], who: str) -> Correction:
    """Return what the measurements change about the fixed lumps [-, mm, kg m²].

    Own: totals as measured less what was carried are those of the rest.

    Parameters
    ----------
    measured : Measured
    fixed : list of Lump
        In the aeroplane in every set-up.
    carried : list of Lump
        Pack and loose weights of the set-up that was measured.
    who : str
        Name for messages.

    Raises
    ------
    FileFault
        If a measurement contradicts the known masses, or swings contradict each other.
    """
    always, load, now = total(fixed), total(carried), total([*fixed, *carried])
    mass = now.mass_kg if measured.mass_g is None else measured.mass_g / 1000.0
    rest = mass - load.mass_kg
    if rest <= 0.0:
        text = f"must exceed the {1000 * load.mass_kg:.0f} g of pack and loose weights"
        raise FileFault(who, [Fault("measured.mass_g", f"{text}; got {measured.mass_g:g}")])
    factor = rest / always.mass_kg
    shift = 0.0
    if measured.balance_aft_mm is not None:
        moment = mass * measured.balance_aft_mm - load.mass_kg * load.aft_mm
        shift = moment / rest - always.aft_mm
    mended = total([*corrected(fixed, factor, shift), *carried])
    added, inertia_notes = _swings(measured, mended, who)
    notes = _differences(measured, now) + inertia_notes
    return Correction(factor, shift, added, tuple(notes))


def corrected(fixed: list[Lump], mass_factor: float, shift_aft_mm: float) -> list[Lump]:
    """Return the fixed lumps with masses scaled [-] and places shifted aft [mm].

    By definition: second moments about their own centres go with the mass.
    """
    shift = np.array([-shift_aft_mm / 1000.0, 0.0, 0.0])
    return [
        Lump(
            lump.name,
            lump.kind,
            lump.mass_kg * mass_factor,
            lump.centre_m + shift,
            lump.moment_kg_m2 * mass_factor,
        )
        for lump in fixed
    ]


def _differences(measured: Measured, ledger: Total) -> list[str]:
    """Return what mass [g] and balance point [mm] differ by, in words; by definition."""
    notes = []
    if measured.mass_g is not None:
        off = measured.mass_g - 1000.0 * ledger.mass_kg
        notes.append(
            f"scales say {MASS(measured.mass_g)}, the parts add up to "
            f"{MASS(1000.0 * ledger.mass_kg)}: {MASS(off, '+.0f')} put on airframe and parts"
        )
    if measured.balance_aft_mm is not None:
        off = measured.balance_aft_mm - ledger.aft_mm
        notes.append(
            f"it balances at {LENGTH(measured.balance_aft_mm, '.1f')}, the parts at "
            f"{LENGTH(ledger.aft_mm, '.1f')}: airframe and parts moved to match "
            f"({LENGTH(off, '+.1f')})"
        )
    return notes


def _swings(measured: Measured, ledger: Total, who: str) -> tuple[Array, list[str]]:
    """Return what swings add to the three inertias (3,) [kg m²], and that in words [%].

    By definition: measured less computed.
    """
    tests = (measured.roll_swing, measured.pitch_swing, measured.yaw_swing)
    before = np.diag(ledger.inertia_kg_m2)
    after = before.copy()
    notes = []
    for axis, test in enumerate(tests):
        if test is not None:
            after[axis] = from_swing(test)
            off = 100.0 * (after[axis] / before[axis] - 1.0)
            notes.append(
                f"{AXIS_NAMES[axis]} inertia from its swing {INERTIA(after[axis], '.4f')}, "
                f"from the parts {INERTIA.figure(before[axis], '.4f')} ({off:+.0f} %); "
                "a swing carries air along"
            )
    check_triangle(after, who)
    return after - before, notes


def check_triangle(inertias_kg_m2: Array, who: str) -> None:
    """Refuse three moments of inertia (3,) [kg m²] of which one exceeds the sum of the others.

    No body can have such (each is ∫ of two squared distances): [landau1976] §32.

    Raises
    ------
    FileFault
        With the three values and the swings to look at.
    """
    for axis in range(3):
        largest, rest = inertias_kg_m2[axis], np.delete(inertias_kg_m2, axis).sum()
        if largest > rest * (1.0 + 1e-12):
            said = ", ".join(
                f"{name} {INERTIA.figure(value, '.4f')}"
                for name, value in zip(AXIS_NAMES, inertias_kg_m2, strict=True)
            )
            text = f"gives inertias no body can have, {said} {INERTIA}: {AXIS_NAMES[axis]} exceeds "
            mend = "the sum of the other two; measure again, or leave the doubtful swing out"
            raise FileFault(who, [Fault("measured", text + mend)])
