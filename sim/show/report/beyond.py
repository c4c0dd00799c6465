"""Beyond the stall, for the report: departure criteria against flights, spins across sizes."""

from collections.abc import Sequence
from math import degrees, isnan

from sim import tables
from sim.pack.assemble import Assembled
from sim.show.drawing.canvas import one_axes
from sim.show.figures.departure_plane import ALPHAS_DEG, draw_departure_plane
from sim.show.report.parts import Folded, Paragraph, Picture, Section, Table, section
from sim.show.words.phrases import limits_text, spoken
from sim.spin.scale import Band, Where
from sim.study.checks.agreement import Agreement, departure_agreement
from sim.study.checks.spin_scale import ScaledSpin, Stand, scaled_spins
from sim.study.results.result import StudyResult
from sim.trim.criteria import criteria
from sim.units.quantities import SPEED, Quantity

MOST_LINES = 4  # set-ups that the departure plane can tell apart
ANSWERS = {True: "yes", False: "no", None: "cannot be told"}
FLOWN = {True: "departs", False: "holds", None: "half and half"}
NOTES = (
    "At the stall, beyond it: signs of Cn_beta,dyn and of the roll that ailerons bring, at the "
    "stall and from there on. Expected to depart if either is against it anywhere.",
    "Departed: of the resolved flights, with 95 % limits; agreement counts more than half. The "
    "criteria speak of sideslip and ailerons only: a manoeuvre that holds rudder into a turn, or "
    "never goes beyond the stall, may well not agree.",
)
COMPARED = (
    "wb/2V: turn rate times span over twice the airspeed. Relative density: m/(rho S b). Mass "
    "loading: (Ix - Iy)/(m b2). Deep stalls are left out: they hardly turn."
)
SCALED = (
    "As an equal aeroplane of this span would fly them (Froude: rate grows by the root of the "
    "scale, sink falls by it). Ranges are what was measured, not what is allowed."
)
YAW = (
    "A moment of {:g} or more against the spin left no steady spin in balance tests of "
    "plain wings (NACA, 1937). A spin found with more, though rudder is with it, is doubtful."
)


def departures(result: StudyResult, ready: Sequence[Assembled]) -> Section | None:
    """Return the section on departure criteria: the plane, and the table of agreement.

    None for a study of an aft limit alone.
    """
    if not ready:
        return None
    shown = ready[:MOST_LINES]
    figure, axes = one_axes(8.0, 5.2)
    names = [setup.name for setup in result.setups[:MOST_LINES]]
    found = {
        name: criteria(one, ALPHAS_DEG, one.stall.speed_mps)
        for name, one in zip(names, shown, strict=True)
    }
    stalls = {n: degrees(x.stall.alpha) for n, x in zip(names, shown, strict=True)}
    draw_departure_plane(axes, found, stalls)
    text = "The two departure criteria against each other along the angle of attack. They know "
    text += "neither rudder nor rotation, so what was flown stands beside them in the table."
    rows = [agreement_row(row) for row in departure_agreement(result, ready)]
    heads = (
        "set-up", "manoeuvre", "criteria at the stall", "beyond it", "flown", "departed", "agree",
    )  # fmt: skip
    table = Table("Departure criteria against flights", heads, rows, words=5)
    notes = [Paragraph(note, "note") for note in NOTES]
    return section("Departure criteria", Picture(figure, "departure", text), table, *notes)


def agreement_row(row: Agreement) -> tuple[str, ...]:
    """Return a row of the table of agreement."""
    return (
        row.setup, spoken(row.manoeuvre), str(row.at_stall.value),
        f"to {row.to_deg:.0f}°: {row.beyond.value}", FLOWN[row.mostly_departed],
        f"{row.departed} of {row.flights} ({limits_text(row.low, row.high)})", ANSWERS[row.agree],
    )  # fmt: skip


def scaled(result: StudyResult, ready: Sequence[Assembled]) -> Section | None:
    """Return the section on spins by what compares across sizes; None without a spin."""
    spins = scaled_spins(result, ready)
    if not spins:
        return None
    heads = (
        "set-up", "manoeuvre", "spin", "angle of attack, °", "yaw, °/s",
        f"sink, {SPEED}", "turn rate, ωb/2V", "relative density", "mass loading, 1e-4",
    )  # fmt: skip
    numbers = Table(
        "Spins by what compares across sizes", heads, [_numbers(one) for one in spins], words=3
    )
    known, ours = _against(spins)
    yaw = YAW.format(-tables.judge().no_spin_yaw)
    return section(
        "Spins across sizes", numbers, Paragraph(COMPARED, "note"),
        Folded("Against published spins", (known, Paragraph(SCALED, "note"), ours)),
        Folded("What yaws it", (_moments(spins), Paragraph(yaw, "note"))),
    )  # fmt: skip


def _against(spins: Sequence[ScaledSpin]) -> tuple[Table, Table]:
    """Return published spins scaled to this span, and where ours lie against them."""
    like = [stand.published for stand in spins[0].stands]
    known = [
        (one.name, _range(one.alpha_deg, ".0f"), _range(one.rate_dps, ".0f"),
         _range(one.sink_mps, ".0f", SPEED), _range(one.turn, ".2f"))
        for one in like
    ]  # fmt: skip
    heads = ("published", "angle of attack, °", "yaw, °/s", f"sink, {SPEED}", "turn rate, ωb/2V")
    shown = [i for i, stand in enumerate(spins[0].stands) if _stand(stand)]
    names = ["set-up", "manoeuvre", *(like[i].name for i in shown)]
    ours = [
        (one.setup, spoken(one.manoeuvre),
         *(_stand(one.stands[i]) for i in shown))
        for one in spins
    ]  # fmt: skip
    return (
        Table("Published spins, scaled to this span", heads, known),
        Table("Ours against them", names, ours, words=len(names)),
    )


def _stand(stand: Stand) -> str:
    """Return where a spin lies against one published kind: "alpha above, yaw below"."""
    parts = (
        ("alpha", stand.alpha), ("yaw", stand.rate), ("sink", stand.sink), ("wb/2V", stand.turn),
    )  # fmt: skip
    return ", ".join(f"{name} {where}" for name, where in parts if where is not Where.UNKNOWN)


def _moments(spins: Sequence[ScaledSpin]) -> Table:
    heads = (
        "set-up", "manoeuvre", "sideslip, °", "tail and fuselage, rudder with", "centred",
        "against", "wing", "",
    )  # fmt: skip
    rows = [_yaw(one) for one in spins]
    return Table("Yawing moment Cn in the spin, with it +, against it -", heads, rows, words=2)


def _numbers(one: ScaledSpin) -> tuple[str, ...]:
    spin, scale = one.spin, one.scale
    return (
        one.setup, spoken(one.manoeuvre), spin.mode, f"{spin.alpha_deg:.0f}",
        f"{spin.yaw_rate_dps:.0f}", SPEED.figure(spin.sink_mps, ".1f"), f"{spin.rate:.2f}",
        f"{scale.relative_density:.1f}", f"{1e4 * scale.mass_loading:+.0f}",
    )  # fmt: skip


def _yaw(one: ScaledSpin) -> tuple[str, ...]:
    yaw = one.yaw
    cells = (yaw.rudder_with, yaw.centred, yaw.rudder_against, yaw.wing)
    told = f"doubtful: more than {-tables.judge().no_spin_yaw:g} against" if yaw.suspicious else ""
    return (
        one.setup, spoken(one.manoeuvre), f"{one.beta_deg:+.0f}",
        *(f"{cell:+.4f}" for cell in cells), told,
    )  # fmt: skip


def _range(band: Band, form: str, unit: Quantity | None = None) -> str:
    if isnan(band.low) or isnan(band.high):
        return "-"
    ends = (band.low, band.high)
    return " to ".join(f"{x:{form}}" if unit is None else unit.figure(x, form) for x in ends)
