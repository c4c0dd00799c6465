"""Measured pull, current and speeds meet constants that nobody measures."""

from dataclasses import replace

import pytest

from sim import tables
from sim.describe import Aeroplane, FileFault, load_aeroplane, load_manoeuvre, load_recovery
from sim.describe.masses import Measured
from sim.pack.assemble import assemble, flown_spreads, power_fit_of
from sim.power.bench_checks import check_measured
from sim.power.bench_fit import PowerFit, duty_for
from sim.power.bench_words import (
    bench_volts_line,
    constant,
    fit_notes,
    not_flown_lines,
    strained_lines,
    unmet_lines,
)
from sim.power.constants import spread_of, uncertain, values_of, with_values
from sim.power.least_squares import Strained
from sim.power.operating_point import operating_point
from sim.power.packing import pack_power

RHO = 1.225
G = 9.80665


def measured(name: str, **values: float) -> Aeroplane:
    return load_aeroplane(name).model_copy(update={"measured": Measured(**values)})


def on_the_bench(aeroplane: Aeroplane, volts: float) -> dict[str, float]:
    """Return what scale and meter would say of an aeroplane at a voltage."""
    power = pack_power(aeroplane, assemble(aeroplane).setup)
    still = operating_point(power._replace(pack=power.pack * 0.0 + [volts, 0.0]), 1.0, 0.0, RHO)
    return {
        "static_thrust_g": 1000.0 * still.net_thrust_n / G,
        "static_current_a": still.current_a,
        "pack_v": volts,
    }


def moved(fit: PowerFit) -> dict[str, float]:
    return {x.name: x.share for x in fit.moved}


def test_an_aeroplane_without_measurements_is_left_alone():
    jet = load_aeroplane("display_jet")
    assert power_fit_of(jet).aeroplane is jet
    assert assemble(jet).aeroplane is jet


@pytest.mark.parametrize("name", ["display_jet", "club_sport", "twin_delta"])
def test_what_the_file_says_already_moves_nothing(name):
    plain = load_aeroplane(name)
    fit = power_fit_of(measured(name, **on_the_bench(plain, 15.0)))
    assert max(abs(share) for share in moved(fit).values()) < 0.01
    assert fit.unmet == ()


@pytest.mark.parametrize(
    ("name", "constant", "factor"),
    [("display_jet", "efficiency", 0.9), ("club_sport", "power_factor", 1.2)],
)
def test_a_hidden_change_is_found_from_pull_and_current(name, constant, factor):
    plain = load_aeroplane(name)
    values = values_of(plain)
    other = with_values(plain, values | {constant: factor * values[constant]})
    said = on_the_bench(other, 15.0)
    fit = power_fit_of(measured(name, **said))
    shares = {key: share for key, share in moved(fit).items() if key != "bench_volts"}
    assert max(shares, key=lambda key: abs(shares[key])) == constant
    assert shares[constant] * (factor - 1.0) > 0.0
    # flown: nearer to what was measured than the file, and within its standard deviations
    found = on_the_bench(fit.aeroplane, 15.0)
    for key, sd in (("static_thrust_g", 0.03), ("static_current_a", 0.04)):
        assert abs(found[key] / said[key] - 1.0) < sd
    before = on_the_bench(plain, 15.0)["static_current_a"]
    assert abs(found["static_current_a"] - said["static_current_a"]) < 0.4 * abs(
        before - said["static_current_a"]
    )


def test_a_fitted_aeroplane_is_not_fitted_again():
    fit = power_fit_of(measured("display_jet", static_thrust_g=2300.0))
    assert power_fit_of(fit.aeroplane).aeroplane is fit.aeroplane
    assert assemble(fit.aeroplane).aeroplane is fit.aeroplane


def test_a_measured_pull_narrows_the_thrust_that_is_drawn():
    def spread(aeroplane):
        return next(x.sd for x in flown_spreads(aeroplane) if x.name == "thrust")

    usual = spread(load_aeroplane("display_jet"))
    with_volts = spread(measured("display_jet", static_thrust_g=2400.0, pack_v=22.5))
    without = spread(measured("display_jet", static_thrust_g=2400.0))
    assert 0.03 <= with_volts < without <= usual
    own = measured("display_jet", static_thrust_g=2400.0, pack_v=22.5)
    own = own.model_copy(update={"uncertainty": {"thrust": 0.05}})
    assert spread(own) == 0.05
    # a current alone says nothing of the thrust's spread
    assert spread(measured("display_jet", static_current_a=60.0)) == usual


def test_what_cannot_be_met_is_told_and_widens_the_draw():
    weak = measured("display_jet", static_thrust_g=1200.0)
    fit = power_fit_of(weak)
    assert [x.name for x in fit.unmet] == ["static_thrust_g"]
    assert all(abs(share) <= 1.0 for share in moved(fit).values())
    (line,) = unmet_lines(fit)
    assert line.startswith("measured.static_thrust_g: 1200 g cannot be met")
    # does it matter? flight time yes, a spin with its throttle closed no
    assert "It touches flight time, currents" in line
    assert line.endswith("with the throttle closed have power in their pull-out alone")
    two = unmet_lines(replace(fit, met=(*fit.met, *fit.unmet)))
    assert ["It touches" in x for x in two] == [False, True]
    assert line in fit_notes(fit)
    assert next(x.sd for x in flown_spreads(weak) if x.name == "thrust") > 0.2


def test_what_a_kind_s_study_flies_has_power_in_the_pull_out_alone():
    """As `unmet_lines` says of stalls and spins with the throttle closed."""
    for kind in tables.kinds().kinds.values():
        for name in kind.flying.manoeuvres:
            assert {x.throttle for x in load_manoeuvre(name).phases} == {0.0}, name
        for name in kind.flying.recoveries:
            *closed, last = load_recovery(name).phases
            assert {x.throttle for x in closed} == {0.0}, name
            assert last.pilot == "pull_out", name


def test_a_controller_that_holds_by_the_file_does_not_hide_which_way_to_move():
    """By the file the current stands at the controller's limit, where it has no slope.

    What meets it must not hang on a limit above it.
    """
    plain = load_aeroplane("club_sport")
    taken = on_the_bench(plain, 15.0)["static_current_a"]
    found = []
    for limit in (0.97 * taken, 2.0 * taken):
        controllers = {
            name: one.model_copy(update={"limit_a": limit})
            for name, one in plain.controllers.items()
        }
        said = Measured(static_current_a=0.93 * taken, pack_v=15.0)
        changed = plain.model_copy(update={"controllers": controllers, "measured": said})
        found.append(power_fit_of(changed))
    assert found[0].unmet == ()
    assert moved(found[0]) == pytest.approx(moved(found[1]), abs=1e-9)
    assert max(abs(share) for share in moved(found[0]).values()) > 0.1


def test_what_only_the_day_meets_is_told_as_not_flown():
    fit = power_fit_of(measured("club_sport", top_speed_mps=24.5))
    (row,) = fit.met
    assert row.met
    assert row.after / row.measured - 1.0 > 2.0 * 0.04  # beyond two standard deviations, by hand
    assert not row.flown
    (line,) = not_flown_lines(fit)
    assert "24.5 m/s measured" in line
    assert line.endswith("and flattering")
    assert line in fit_notes(fit)
    near = replace(row, after=1.02 * row.measured)
    assert near.flown
    assert not_flown_lines(replace(fit, met=(near,))) == []


def test_a_constant_at_the_end_of_its_spread_is_told_with_where_it_wants_to_be():
    """A fan 40 % worse than its file says draws more for less; its spread allows 15 %."""
    plain = load_aeroplane("display_jet")
    values = values_of(plain)
    poor = with_values(plain, values | {"efficiency": 0.6 * values["efficiency"]})
    fit = power_fit_of(measured("display_jet", **on_the_bench(poor, 22.0)))
    assert any(not x.flown for x in fit.met)
    (found,) = (x for x in fit.strained if x.name == "efficiency")
    assert isinstance(found, Strained)
    assert found.end == pytest.approx(0.85 * values["efficiency"])
    assert found.wanted == pytest.approx(0.6 * values["efficiency"], rel=0.03)
    (line,) = (x for x in strained_lines(fit) if "efficiency" in x)
    assert "static pull and static current together want" in line
    pull = next(x for x in fit.met if x.name == "static_thrust_g")
    assert pull.after > pull.measured  # more flown than measured flatters
    assert any(x.endswith("and flattering") for x in not_flown_lines(replace(fit, met=(
        replace(pull, off_sds=0.0, after=1.1 * pull.measured),))))  # fmt: skip
    near = power_fit_of(measured("display_jet", **on_the_bench(plain, 22.0)))
    assert near.strained == ()


def test_constants_and_the_bench_are_told_with_units():
    fit = power_fit_of(measured("display_jet", static_thrust_g=2400.0, pack_v=22.5))
    notes = " ".join(fit_notes(fit))
    assert "22.5 V on the bench" in bench_volts_line(fit, 22.9)
    told = {x.name: constant(x, x.after) for x in fit.moved}
    assert told["resistance_mohm"].endswith(" mohm")
    assert told["bench_volts"].startswith("x ")
    assert " 1 to 1 " not in notes


def test_a_slow_top_speed_is_shared_between_power_and_drag():
    fit = power_fit_of(measured("club_sport", top_speed_mps=26.0))
    shares = moved(fit)
    assert shares["drag"] > 0.1
    assert shares["thrust_factor"] < -0.1
    (met,) = fit.met
    assert met.measured < met.after < met.before
    notes = fit_notes(fit)
    assert f"top speed 26.0 m/s measured; {met.before:.1f} m/s by the file's" in notes[0]
    assert any(x.startswith("put on that day, not flown: drag") for x in notes)


@pytest.mark.parametrize(
    ("values", "said"),
    [
        (
            {"static_thrust_g": 1900.0, "static_current_a": 20.0, "pack_v": 14.9},
            "measured.static_current_a: gives 298 W at 14.9 V; a pull of 1900 g takes 537 W even",
        ),
        (
            {"static_current_a": 90.0},
            "measured.static_current_a: is more than 2 x limit_a of controller 'esc40', 80 A",
        ),
        (
            {"static_current_a": 40.0, "pack_v": 22.0},
            "measured.pack_v: must be 10.0 to 17.6 V under load for 4 cells; got 22",
        ),
        (
            {"top_speed_mps": 12.0},
            "measured.top_speed_mps: must be above the stall, 13.2 m/s; got 12 m/s",
        ),
    ],
)
def test_what_cannot_be_is_refused(values, said):
    with pytest.raises(FileFault) as caught:
        power_fit_of(measured("twin_delta", **values))
    assert f"twin_delta.toml: {said}" in str(caught.value)


def test_ideal_power_is_the_least_that_a_measurement_may_say():
    """Checks 8.1: 800 W give 20.2352 N through a nozzle of 58 mm at 1.225 kg/m3, ideal."""
    jet = load_aeroplane("display_jet")
    pack = jet.packs["6s_4000"]
    for watts, refused in ((790.0, True), (810.0, False)):
        said = Measured(
            static_thrust_g=1000.0 * 20.2352 / G, static_current_a=watts / 22.0, pack_v=22.0
        )
        if refused:
            with pytest.raises(FileFault):
                check_measured(jet, said, pack, 58.0, RHO)
        else:
            check_measured(jet, said, pack, 58.0, RHO)


def test_duty_for_a_thrust_gives_it():
    jet = load_aeroplane("display_jet")
    power = pack_power(jet, assemble(jet).setup)
    duty = duty_for(power, 5.0, 25.0, RHO)
    assert operating_point(power, duty, 25.0, RHO).net_thrust_n == pytest.approx(5.0, abs=1e-4)
    assert duty_for(power, -20.0, 25.0, RHO) == 0.0


def test_spreads_are_shares_of_a_value_or_values():
    assert spread_of("efficiency", 0.8, False) == pytest.approx(
        0.8 * uncertain("efficiency").spread
    )
    assert spread_of("ram_recovery", 0.5, False) == uncertain("ram_recovery").spread
    assert spread_of("bench_volts", 1.0, True) < spread_of("bench_volts", 1.0, False)
