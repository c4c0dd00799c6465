"""What a study's own flights are held against, as parts of its record."""

from collections.abc import Sequence
from typing import Annotated

from sim.describe import StudyFiles, resolve_setup
from sim.pack.assemble import Assembled, assemble
from sim.record.fields import Lax, Number, Record, said
from sim.study.checks.agreement import departure_agreement
from sim.study.checks.spin_scale import scaled_spins
from sim.study.results.result import StudyResult
from sim.trim.criteria import Says


class DepartureRow(Record):
    """The departure criteria of a set-up against how many flights departed."""

    setup: Annotated[str, said("the set-up")]
    manoeuvre: Annotated[str, said("the manoeuvre")]
    at_stall: Annotated[Lax[Says], said("what the criteria say at the stall")]
    beyond_stall: Annotated[Lax[Says], said("and from it to to_alpha_deg")]
    to_alpha_deg: Annotated[float, Number("degrees", 1, "angle of attack")]
    departed: Annotated[int, Number("flights", what="that departed")]
    flights: Annotated[int, Number("flights", what="flown")]
    low: Annotated[float, Number("1", 4, "lower 95 % limit of the share that departed")]
    high: Annotated[float, Number("1", 4, "upper 95 % limit of the share that departed")]
    agree: Annotated[bool | None, said("null: the flights cannot tell")]


class ScaledSpinRow(Record):
    """The typical spin of a set-up, by the numbers that are compared across sizes."""

    setup: Annotated[str, said("the set-up")]
    manoeuvre: Annotated[str, said("the manoeuvre")]
    turn_rate_wb_2v: Annotated[float, Number("1", 4, "omega b/(2 V)")]
    relative_density: Annotated[float, Number("1", 3, "m/(rho S b)")]
    mass_loading: Annotated[float, Number("1", 5, "(Ix - Iy)/(m b2)")]
    sideslip_deg: Annotated[float, Number("degrees", 1, "in a spin to the right")]
    cn_rest_rudder_with: Annotated[
        float | None, Number("1", 5, "Cn of tail and fuselage, rudder with the spin")
    ]
    cn_rest_centred: Annotated[float | None, Number("1", 5, "the same, rudder centred")]
    cn_rest_rudder_against: Annotated[float | None, Number("1", 5, "the same, rudder against")]
    cn_wing: Annotated[float | None, Number("1", 5, "Cn of the wing, rudder with the spin")]
    doubtful: Annotated[bool, said("more Cn against the spin than any published one")]


def assembled_setups(files: StudyFiles) -> list[Assembled]:
    """Return the set-ups of a study in its order, ready to fly, nominal."""
    return [
        assemble(files.aeroplane, resolve_setup(files.aeroplane, block))
        for block in files.study.setups
    ]


def departure_rows(result: StudyResult, ready: Sequence[Assembled]) -> list[DepartureRow]:
    """Return the departure criteria against flights."""
    return [
        DepartureRow(
            setup=row.setup,
            manoeuvre=row.manoeuvre,
            at_stall=row.at_stall,
            beyond_stall=row.beyond,
            to_alpha_deg=row.to_deg,
            departed=row.departed,
            flights=row.flights,
            low=row.low,
            high=row.high,
            agree=row.agree,
        )
        for row in departure_agreement(result, ready)
    ]


def scaled_rows(result: StudyResult, ready: Sequence[Assembled]) -> list[ScaledSpinRow]:
    """Return the spins across sizes."""
    return [
        ScaledSpinRow(
            setup=one.setup,
            manoeuvre=one.manoeuvre,
            turn_rate_wb_2v=one.spin.rate,
            relative_density=one.scale.relative_density,
            mass_loading=one.scale.mass_loading,
            sideslip_deg=one.beta_deg,
            cn_rest_rudder_with=one.yaw.rudder_with,
            cn_rest_centred=one.yaw.centred,
            cn_rest_rudder_against=one.yaw.rudder_against,
            cn_wing=one.yaw.wing,
            doubtful=one.yaw.suspicious,
        )
        for one in scaled_spins(result, ready)
    ]
