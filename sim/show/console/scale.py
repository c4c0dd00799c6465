"""Where the spins of a study lie among published ones, by numbers that hold across sizes."""

from collections.abc import Sequence
from math import isnan
from textwrap import fill

from rich.table import Table

from sim import tables
from sim.show.console.console import Tables, add, notes, paragraph, table
from sim.show.words.phrases import spoken
from sim.spin.scale import Band, PublishedSpin, Where
from sim.study.checks.spin_scale import ScaledSpin, Stand

NAME_WIDTH = 16
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


def scale_tables(spins: Sequence[ScaledSpin]) -> Tables:
    """Return the study's spins by scale, against published ones, and their yawing moments."""
    if not spins:
        return [paragraph(""), paragraph("No spin to compare with published ones.")]
    like = [stand.published for stand in spins[0].stands]
    return [
        _numbers(spins), *notes([COMPARED]), _published(like), *notes([SCALED]), _stands(spins),
        _yaw(spins), *notes([YAW.format(-tables.judge().no_spin_yaw)]),
    ]  # fmt: skip


def _names(spins: Sequence[ScaledSpin], i: int) -> tuple[str, str]:
    """Return set-up and manoeuvre of a row; the set-up only once."""
    new = i == 0 or spins[i - 1].setup != spins[i].setup
    return spins[i].setup if new else "", spoken(spins[i].manoeuvre)


def _numbers(spins: Sequence[ScaledSpin]) -> Table:
    out = table(
        "Spins by what compares across sizes",
        "set-up", "manoeuvre", "spin", "alpha\ndeg", "yaw\ndeg/s", "sink\nm/s",
        "turn rate\nwb/2V", "relative\ndensity", "mass\nloading\ne-4", left=3,
    )  # fmt: skip
    for i, one in enumerate(spins):
        spin = one.spin
        add(
            out, *_names(spins, i), spin.mode, f"{spin.alpha_deg:.0f}", f"{spin.yaw_rate_dps:.0f}",
            f"{spin.sink_mps:.1f}", f"{spin.rate:.2f}", f"{one.scale.relative_density:.1f}",
            f"{1e4 * one.scale.mass_loading:+.0f}",
        )  # fmt: skip
    return out


def _range(band: Band, form: str) -> str:
    return "-" if isnan(band.low) or isnan(band.high) else f"{band.low:{form}}-{band.high:{form}}"


def _number(value: float, form: str) -> str:
    return "-" if isnan(value) else f"{value:{form}}"


def _published(like: Sequence[PublishedSpin]) -> Table:
    out = table(
        f"Published spins, scaled to a span of {1000.0 * like[0].span_m:.0f} mm",
        "kind", "alpha\ndeg", "yaw\ndeg/s", "sink\nm/s", "turn rate\nwb/2V", "relative\ndensity",
        "mass\nloading\ne-4",
    )  # fmt: skip
    for one in like:
        add(
            out, one.name, _range(one.alpha_deg, ".0f"), _range(one.rate_dps, ".0f"),
            _range(one.sink_mps, ".0f"), _range(one.turn, ".2f"),
            _number(one.relative_density, ".1f"), _number(1e4 * one.mass_loading, "+.0f"),
        )  # fmt: skip
    return out


def stand_text(stand: Stand) -> str:
    """Return where a spin lies against one published kind: "alpha above, yaw below"."""
    parts = (("alpha", stand.alpha), ("yaw", stand.rate), ("sink", stand.sink))
    told = [f"{name} {where}" for name, where in (*parts, ("wb/2V", stand.turn))
            if where is not Where.UNKNOWN]  # fmt: skip
    return "\n".join(told)


def _stands(spins: Sequence[ScaledSpin]) -> Table:
    shown = [i for i, stand in enumerate(spins[0].stands) if stand_text(stand)]
    names = (fill(spins[0].stands[i].published.name, NAME_WIDTH) for i in shown)
    out = table("Ours against them", "set-up", "manoeuvre", *names, left=2)
    for i, one in enumerate(spins):
        add(out, *_names(spins, i), *(stand_text(one.stands[k]) for k in shown))
    return out


def _yaw(spins: Sequence[ScaledSpin]) -> Table:
    out = table(
        "Yawing moment Cn in the spin, elevator held into it (with the spin +, against it -)",
        "set-up", "manoeuvre", "sideslip\ndeg", "tail, fuselage:\nrudder with", "centred",
        "against", "wing", "", left=2,
    )  # fmt: skip
    for i, one in enumerate(spins):
        yaw = one.yaw
        cells = (yaw.rudder_with, yaw.centred, yaw.rudder_against, yaw.wing)
        told = "doubtful" if yaw.suspicious else ""
        add(out, *_names(spins, i), f"{one.beta_deg:+.0f}", *(f"{x:+.4f}" for x in cells), told)
    return out
