"""What could still be measured of an aeroplane: the table, and what its draws become."""

from math import hypot

import numpy as np
import pytest

from sim import tables
from sim.describe import Aeroplane, load_aeroplane
from sim.describe.masses import Measured
from sim.pack.measurable import as_if_measured, entries_that_tell, measurements
from sim.pack.spreads import spreads_of
from sim.pack.unknowns import unknowns
from sim.tables.models.measuring import Measuring
from sim.weigh import weigh_set_up

SWING = {"mass_g": 2433.0, "wire_spacing_mm": 500.0, "wire_length_mm": 2000.0, "period_s": 1.9}


def jet(**changes):
    """Return the display jet with other top-level tables."""
    raw = load_aeroplane("display_jet").model_dump(exclude_none=True, by_alias=True)
    return Aeroplane.model_validate({**raw, **changes})


def sds(aeroplane):
    return {x.name: x.sd for x in spreads_of(aeroplane)}


def one(aeroplane, name):
    return next(x for x in measurements(aeroplane) if x.name == name)


def test_each_widening_is_taken_away_by_measuring_something():
    entries = tables.measuring().entries
    for widening in tables.assumed().widening:
        for key in widening.keys:
            assert len({x.name for x in entries_that_tell(key.split("."))}) == 1, key
    swings = {x.key for x in tables.assumed().narrowing}
    assert {x.swing for x in entries} - {None} == swings


def test_the_table_names_draws_alone():
    entry = {"name": "a", "text": "b", "measure": "c", "source": "d", "leaves": {"thrsut": 0.1}}
    with pytest.raises(ValueError, match="did you mean 'thrust'"):
        Measuring.model_validate({"of_the_day": ["wind"], "entries": [entry]})


def test_a_measured_aeroplane_can_be_measured_better_only():
    assert not any(x.assumed for x in measurements(jet()))
    assert all(x.keys == () for x in measurements(jet()))
    names = {x.name for x in measurements(jet())}
    assert {"balance_stand", "throws", "pitch_swing"} <= names
    assert not {"wing_section", "parts_list", "pack_weights"} & names
    # one that was swung, and one whose own file says better, is not asked again
    swung = jet(measured={"setup": "display", "pitch_swing": SWING}, uncertainty={"throw": 0.01})
    assert not {"pitch_swing", "throws"} & {x.name for x in measurements(swung)}


def test_a_pull_that_was_measured_with_its_current_is_not_asked_for_again():
    """Both on the bench: the fan's constants stay assumed in the file, the job is done."""
    guessed = jet(assumed=["fan_units"])
    assert one(guessed, "pull").assumed
    both = Measured(static_thrust_g=2300.0, static_current_a=70.0)
    assert "pull" not in {x.name for x in measurements(guessed, both)}
    half = Measured(static_thrust_g=2300.0)
    assert "pull" in {x.name for x in measurements(guessed, half)}


def test_what_is_promised_is_what_the_file_does_with_it():
    keys = ["surfaces.wing.section", "surfaces.wing.washout_deg", "airframe"]
    guessed = jet(assumed=keys, from_box=["motors.m1750.kv_rpm_per_v"])
    section = one(guessed, "wing_section")
    assert not {"wing_thickness", "wing_camber"} & {x.name for x in measurements(guessed)}
    assert (section.assumed, section.keys) == (True, ("surfaces.wing.section",))
    then = jet(assumed=keys[1:], from_box=["motors.m1750.kv_rpm_per_v"])
    assert sds(as_if_measured(guessed, section)) == pytest.approx(sds(then))
    # the swing: as one that gives the inertia that stands in the file
    swing = one(guessed, "pitch_swing")
    assert swing.assumed
    swung = jet(assumed=keys, measured={"setup": "display", "pitch_swing": SWING})
    assert (
        sds(as_if_measured(guessed, swing))["spread_lengthwise"] == sds(swung)["spread_lengthwise"]
    )
    # the parts: all that spreading by kind had added
    listed = sds(as_if_measured(guessed, one(guessed, "parts_list")))
    assert listed["spread_upwards"] == sds(jet())["spread_upwards"] < sds(guessed)["spread_upwards"]
    pull = {x.draw: (x.now, x.then) for x in one(guessed, "pull").narrowed}
    assert pull == {"thrust": (hypot(0.06, 0.04), 0.04)}


def test_of_a_section_half_measured_the_other_half_is_asked_for():
    half = jet(assumed=["surfaces.wing.section.camber_pct"])
    names = {x.name for x in measurements(half) if x.assumed}
    assert names & {"wing_section", "wing_thickness", "wing_camber"} == {"wing_camber"}
    assert one(half, "wing_camber").measure == "a straight edge under the section"
    assert sds(as_if_measured(half, one(half, "wing_camber"))) == pytest.approx(sds(jet()))


def test_weighing_tells_what_is_open_of_inertia_and_balance():
    guessed = jet(assumed=["airframe"], from_box=["packs.6s_4000.mass_g"])
    weighed = weigh_set_up(guessed)
    found = {x.measurement.name: x for x in unknowns(guessed, weighed)}
    assert set(found) == {"pitch_swing", "roll_swing", "parts_list", "pack_weights",
                          "balance_height"}  # fmt: skip
    order = [x.per_cent for x in unknowns(guessed, weighed)]
    assert order == sorted(order, reverse=True)
    # pitch inertia is the second moments along the body and upwards; the swing takes the first's
    roll, pitch, yaw = np.diag(weighed.inertia_kg_m2)
    along = 0.5 * (pitch + yaw - roll) / pitch
    effect = next(x for x in found["pitch_swing"].effects if x.what == "pitch inertia")
    assert effect.now == pytest.approx(200.0 * sds(guessed)["spread_lengthwise"] * along)
    assert effect.then == pytest.approx(200.0 * 0.05 * along)
    packs = {x.what: x for x in found["pack_weights"].effects}
    grams = 2000.0 * weighed.mass_kg * sds(guessed)["mass"]
    assert packs["mass"].now == pytest.approx(grams)
    assert packs["balance point"].then == pytest.approx(2.0)
    assert unknowns(jet(), weighed) == ()


def test_a_pull_off_a_data_sheet_leaves_the_scale_worth_its_while():
    pull = {"setup": "display", "static_thrust_g": 2400.0, "static_current_a": 62.0}
    assert "pull" not in [x.name for x in measurements(jet(), jet(measured=pull).measured)]
    sheet = jet(from_box=["measured.static_thrust_g"], measured=pull)
    assert "pull" in [x.name for x in measurements(sheet, sheet.measured)]
