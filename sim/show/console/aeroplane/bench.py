"""Tables of what is found on the bench: weights and balance, and level trim."""

from collections.abc import Sequence
from math import isfinite

import numpy as np
from rich.table import Table

from sim.pack.assemble import Assembled
from sim.show.console.console import Tables, add, heading, notes, paragraph, table
from sim.trim.criteria import Criteria
from sim.trim.modes import Mode
from sim.trim.trimming import Trim
from sim.units.quantities import AREA, INERTIA, LENGTH, LOADING, MASS, SPEED, Quantity
from sim.units.ranges import range_words
from sim.weigh import Weighed, weigh_table
from sim.weigh.reach import Reach


def _figure(quantity: Quantity, value: float) -> str:
    """Return a number in whole units of the default, without a minus before nought."""
    return quantity.figure(value if abs(value) > 0.5 or not quantity.is_default else 0.0)


AXES = ("roll (x)", "pitch (y)", "yaw (z)")


def weigh_tables(weighed: Weighed) -> Tables:
    """Return the ledger, mass, balance point, inertia and what must be added."""
    setup = weighed.setup
    parts = table(
        f"Parts ({LENGTH.spelled} from the datum)",
        "part",
        "kind",
        f"mass, {MASS}",
        "aft",
        "right",
        "up",
        left=2,
    )
    for row in sorted(weigh_table(weighed), key=lambda r: r.aft_mm):
        side = _figure(LENGTH, row.right_mm)
        side = f"+-{side}" if row.count == 2 else side
        name = f"{row.name} (2)" if row.count == 2 else row.name
        add(parts, name, row.kind, _figure(MASS, row.mass_g), _figure(LENGTH, row.aft_mm), side,
            _figure(LENGTH, row.up_mm))  # fmt: skip
    out: Tables = [heading(f"Set-up {setup.name}: {setup.title}"), parts, _totals(weighed)]
    out += [_inertia(weighed), paragraph("")]
    out.append(paragraph(f"Pack {setup.pack}: centre at {LENGTH(weighed.pack_aft_mm)}."))
    for place, grams in weighed.added_weights:
        out.append(paragraph(f"Add {MASS(grams)} at the {place} for this balance point."))
    return [*out, *notes(weighed.notes)]


def reach_tables(reach: Sequence[Reach]) -> Tables:
    """Return where each pack may lie on its tray, and where it then balances."""
    out = table(
        f"Each pack on its tray, nothing added ({LENGTH.spelled} aft of the datum)",
        "pack", "its centre", "balance",
    )  # fmt: skip
    for x in reach:
        centre = range_words(LENGTH.figure(x.front_mm), LENGTH.figure(x.rear_mm))
        add(out, x.pack, centre, range_words(
            LENGTH.figure(x.foremost_mm, ".1f"), LENGTH.figure(x.rearmost_mm, ".1f")
        ))  # fmt: skip
    return [out]


def _totals(weighed: Weighed) -> Table:
    ref = weighed.reference
    out = table("Together", "what", "value")
    rows = (
        ("mass", MASS(1000.0 * weighed.mass_kg)),
        ("balance point, aft of the datum", LENGTH(weighed.balance_aft_mm, ".1f")),
        ("balance point", f"{weighed.balance_pct_mac:.1f} % MAC"),
        ("balance point, up", LENGTH(-1000.0 * weighed.balance_m[2], ".1f")),
        ("balance point, right", LENGTH(1000.0 * weighed.balance_m[1], ".1f")),
        ("wing area", f"{AREA.figure(100.0 * ref.area_m2, '.1f')} {AREA.plain}"),
        ("wing span", LENGTH(1000.0 * ref.span_m)),
        ("mean aerodynamic chord (MAC)", LENGTH(1000.0 * ref.mean_chord_m, ".1f")),
        ("its leading edge, aft of the datum", LENGTH(1000.0 * ref.mean_chord_aft_m, ".1f")),
        *_loading(weighed.wing_loading_kg_m2),
    )
    for name, value in rows:
        add(out, name, value)
    return out


def _loading(kg_m2: float) -> list[tuple[str, str]]:
    """Return the wing loading as the trade has it, in grams and millimetres as SI has it too."""
    trade = f"{LOADING.figure(10.0 * kg_m2)} {LOADING.plain}"
    if not LOADING.is_default:
        return [("wing loading", trade)]
    return [("wing loading", f"{kg_m2:.2f} kg/m2"), ("", trade)]


def _inertia(weighed: Weighed) -> Table:
    out = table(
        f"Inertia about the balance point, {INERTIA.plain}",
        "axis",
        "x",
        "y",
        "z",
        f"radius of gyration, {LENGTH}",
    )
    for name, row, radius in zip(
        AXES, weighed.inertia_kg_m2, weighed.radii_of_gyration_m, strict=True
    ):
        add(
            out,
            name,
            *(INERTIA.figure(value, ".5f") for value in row),
            LENGTH.figure(1000.0 * radius),
        )
    return out


def trim_tables(
    assembled: Assembled,
    trim: Trim,
    neutral_point_pct: float,
    margin_pct: float,
    modes: Sequence[Mode],
    criteria: Criteria,
) -> Tables:
    """Return level trim, stability, modes and departure criteria.

    Parameters
    ----------
    neutral_point_pct, margin_pct : float
        Stick-fixed neutral point and static margin [% MAC].
    criteria : Criteria
        At the angles of attack to print.
    """
    title = f"{assembled.aeroplane.title}, set-up {assembled.setup.name}, nominal"
    out: Tables = [heading(title)]
    never = assembled.aeroplane.structure.never_exceed_mps
    if trim.speed_mps > never:
        text = f"This is faster than the {SPEED.at_most(never)} {SPEED} that the aeroplane must "
        text += "never exceed."
        out.append(paragraph(text))
    out.append(_level(assembled, trim, neutral_point_pct, margin_pct))
    out.append(_modes(modes))
    out += _criteria(criteria)
    return out


def _level(assembled: Assembled, trim: Trim, neutral_pct: float, margin_pct: float) -> Table:
    weighed, stall = assembled.weighed, assembled.stall
    neutral_mm = 1000.0 * weighed.reference.aft_m(neutral_pct)
    reason = "full aft stick reached first" if stall.out_of_tail else "at the peak of lift"
    glides = not assembled.aeroplane.has_motor
    head = "Gliding" if glides else "Level flight"
    out = table(f"{head} at {SPEED(trim.speed_mps, '.1f')}", "what", "value")
    rows = (
        ("angle of attack", f"{trim.alpha_deg:.2f} deg"),
        ("pitch surface (trailing edge down is plus)", f"{trim.tail_deg:+.2f} deg"),
        ("elevator stick (aft is plus)", f"{100.0 * trim.elevator_stick:+.0f} %"),
        ("descends by", f"{trim.descent_deg:.1f} deg")
        if glides
        else ("throttle", f"{100.0 * trim.throttle:.0f} %"),
        (
            "balance point",
            f"{LENGTH(weighed.balance_aft_mm, '.1f')} = {weighed.balance_pct_mac:.1f} % MAC",
        ),
        ("neutral point, sticks held", f"{LENGTH(neutral_mm, '.1f')} = {neutral_pct:.1f} % MAC"),
        ("static margin", f"{margin_pct:.1f} % MAC"),
        (f"slowest level flight, power off ({reason})", SPEED(stall.speed_mps, ".1f")),
        ("angle of attack at the stall", f"{np.degrees(stall.alpha):.0f} deg"),
        ("at the stall, inverted", f"{-np.degrees(stall.inverted):.0f} deg"),
    )
    for name, value in rows:
        add(out, name, value)
    return out


def _half_time(mode: Mode) -> tuple[str, str]:
    time = mode.half_time_s
    if not isfinite(time) or abs(time) > 999.0:
        return "neutral", ""
    return ("dies out", f"{time:.2f}") if time > 0.0 else ("grows", f"{-time:.2f}")


def _modes(modes: Sequence[Mode]) -> Table:
    out = table(
        "Modes of motion about it",
        "mode",
        "period, s",
        "damping ratio",
        "which",
        "half or double, s",
    )
    for mode in modes:
        period = "-" if mode.period_s is None else f"{mode.period_s:.2f}"
        damping = "-" if mode.period_s is None else f"{mode.damping:.2f}"
        add(out, mode.name, period, damping, *_half_time(mode))
    return out


def _criteria(criteria: Criteria) -> Tables:
    out = table(
        "Departure criteria, per degree",
        "angle of attack, deg", "Cn_beta,dyn", "nose", "LCDP", "ailerons", left=0,
    )  # fmt: skip
    for i, alpha in enumerate(criteria.alphas_deg):
        lcdp = criteria.aileron[i]
        nose = "swings away" if criteria.nose_away[i] else "holds"
        way = "roll against" if criteria.roll_against[i] else "roll as asked"
        if criteria.roll_power[i] < 0.0:
            way += " *"
        value = f"{lcdp:+.4f}" if isfinite(lcdp) else "-"
        value = "no roll" if criteria.hardly_rolls[i] else value
        way = way if isfinite(lcdp) else "-"
        add(out, f"{alpha:.0f}", f"{criteria.dynamic[i]:+.4f}", nose, value, way)
    text = [
        "Below 0 a departure is to be expected: of the nose (first), by using ailerons (LCDP, "
        "lateral control departure parameter: the yaw left over while they are used)."
    ]
    if (criteria.roll_power < 0.0).any():
        text.append(
            "* ailerons alone, without sideslip, roll the wrong way there: LCDP above 0 is then "
            "against, below 0 as asked."
        )
    if criteria.hardly_rolls.any():
        text.append(
            "No roll: the ailerons give next to none there, and LCDP, which divides by it, is no "
            "number."
        )
    return [out, *notes(text)]
