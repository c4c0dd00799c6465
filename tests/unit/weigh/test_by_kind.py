"""The weight that nobody listed: total and balance as measured, inertia near a full list's."""

import re
import tomllib

import numpy as np
import pytest

from sim import tables
from sim.describe import Aeroplane, FileFault, data_folder
from sim.describe.masses import Part
from sim.weigh import weigh_set_up
from sim.weigh.by_kind import FITTINGS, skin_area_dm2, surface_area_dm2

HEAVY = ("fan and motor", "motor", "propeller and spinner", "elevon servo", "elevator and rudder "
         "servos", "aileron servo", "tail servo", "rudder servo")  # fmt: skip
KINDS = {
    "display_jet": "fan_jet_strakes",
    "club_sport": "propeller_sport",
    "twin_delta": "delta",
}


def tables_of(name):
    text = (data_folder("scenarios") / "aeroplanes" / f"{name}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def without_parts_list(name, **measured):
    """Return an aeroplane fully listed, and it as known by scales, stand and its heavy things."""
    raw = tables_of(name)
    full = Aeroplane.model_validate(raw)
    weighed = weigh_set_up(full)
    raw["kind"] = KINDS[name]
    del raw["airframe"]
    raw["parts"] = [part for part in raw["parts"] if part["name"] in HEAVY]
    raw["setups"]["scales"] = {"pack": weighed.setup.pack, "pack_aft_mm": weighed.pack_aft_mm}
    raw["measured"] = {
        "setup": "scales", "mass_g": 1000.0 * weighed.mass_kg,
        "balance_aft_mm": weighed.balance_aft_mm, **measured,
    }  # fmt: skip
    return weighed, Aeroplane.model_validate(raw)


@pytest.mark.parametrize("name", KINDS)
def test_total_and_balance_come_out_and_inertia_is_near_the_full_list_s(name):
    full, aeroplane = without_parts_list(name)
    found = weigh_set_up(aeroplane, "scales")
    assert found.mass_kg == pytest.approx(full.mass_kg, rel=1e-12)
    assert found.balance_aft_mm == pytest.approx(full.balance_aft_mm, abs=1e-9)
    # spreads of the draws, 0.18 and 0.22 of a second moment, are one deviation each
    ratio = np.diag(found.inertia_kg_m2) / np.diag(full.inertia_kg_m2)
    assert np.abs(ratio - 1.0).max() < 0.18
    assert "not listed" in found.notes[0]


def test_another_set_up_carries_the_same_airframe():
    _, aeroplane = without_parts_list("display_jet")
    one = {r.name: r.mass_kg for r in weigh_set_up(aeroplane, "scales").rows}
    other = {r.name: r.mass_kg for r in weigh_set_up(aeroplane, "display").rows}
    assert one[FITTINGS] == other[FITTINGS] > 0.3


def test_a_swing_counts_for_it_too():
    swing = {"mass_g": 2433.0, "wire_spacing_mm": 500.0, "wire_length_mm": 2000.0, "period_s": 3.9}
    _, plain = without_parts_list("display_jet")
    _, swung = without_parts_list("display_jet", pitch_swing=swing)
    before, after = weigh_set_up(plain, "scales"), weigh_set_up(swung, "scales")
    assert after.inertia_kg_m2[1, 1] != pytest.approx(before.inertia_kg_m2[1, 1], rel=0.01)
    assert after.balance_aft_mm == pytest.approx(before.balance_aft_mm)


def test_a_balance_point_that_the_body_cannot_give_is_told():
    _, aeroplane = without_parts_list("display_jet", balance_aft_mm=300.0)
    found = weigh_set_up(aeroplane, "scales")
    assert found.balance_aft_mm == pytest.approx(300.0)
    (doubt,) = found.doubts
    assert "fittings inside the body do not make it balance at 300.0 mm" in doubt
    assert "towards the tail" in doubt
    # moments about the balance point (arithmetic): the rest's shift, and a weight at the body's end
    moved, grams = (float(re.search(rf"(\d+) {unit}", doubt[60:])[1]) for unit in ("mm", "g more"))
    rest = sum(x.mass_kg for x in found.rows if x.kind == "airframe")
    end = max(x.stations[-1].aft_mm for x in aeroplane.bodies)
    assert moved * rest == pytest.approx(1e-3 * grams * (end - 300.0), rel=0.02)


def test_a_little_off_is_noted_and_not_doubted(monkeypatch):
    _, aeroplane = without_parts_list("display_jet", balance_aft_mm=300.0)
    wide = tables.plausible().model_copy(update={"unbalanced_pct_mac": 1000.0})
    monkeypatch.setattr(tables, "plausible", lambda: wide)
    found = weigh_set_up(aeroplane, "scales")
    assert not found.doubts
    assert "do not make it balance" in found.notes[1]


def test_fittings_listed_apart_leave_skins_as_they_were():
    """Own: a kind's share of fittings is of all, listed or not, so skins do not grow lighter."""
    _, bare = without_parts_list("display_jet")
    rows = weigh_set_up(bare, "scales").rows
    before = {x.name: x for x in rows}
    at = before[FITTINGS]
    told = {"name": "controller", "mass_g": 100.0, "shape": "point", "right_mm": 0.0, "up_mm": 0.0,
            "aft_mm": -1000.0 * float(at.position_m[0])}  # fmt: skip

    def listed(**more):
        part = Part.model_validate({**told, **more})
        aeroplane = bare.model_copy(update={"parts": (*bare.parts, part)})
        return {x.name: x.mass_kg for x in weigh_set_up(aeroplane, "scales").rows}

    apart, alone = listed(fitting=True), listed()
    assert apart["wing"] == pytest.approx(before["wing"].mass_kg)
    assert apart[FITTINGS] == pytest.approx(at.mass_kg - 0.1)
    assert alone["wing"] < 0.97 * apart["wing"]
    # however much is listed, wires and frames stay
    rest = sum(x.mass_kg for x in rows if x.kind == "airframe")
    heavy = listed(fitting=True, mass_g=700.0 * rest)
    least = tables.kinds().body.fittings_least
    assert heavy[FITTINGS] == pytest.approx(least * 0.3 * rest)


def test_scales_that_say_less_than_what_is_listed_are_refused():
    _, aeroplane = without_parts_list("display_jet", mass_g=900.0)
    with pytest.raises(FileFault, match=r"measured.mass_g: must exceed the 930 g of .*; got 900"):
        weigh_set_up(aeroplane, "scales")


def test_ounces_for_grams_are_refused_with_what_was_meant():
    _, aeroplane = without_parts_list("display_jet", mass_g=85.8)
    with pytest.raises(FileFault, match=r"got 85.8; likely meant 243\d"):
        weigh_set_up(aeroplane, "scales")


def test_areas():
    jet = Aeroplane.model_validate(tables_of("display_jet"))
    # 2 panels of 575 mm by (360 + 160)/2; a tube of 0.44 m girth or so, 1.36 m long
    assert surface_area_dm2(jet.surfaces[0]) == pytest.approx(29.9)
    assert skin_area_dm2(jet.bodies[0]) == pytest.approx(55.0, abs=5.0)


def test_neither_shares_nor_kind_is_told():
    raw = tables_of("club_sport")
    del raw["airframe"]
    with pytest.raises(ValueError, match=r"\[\[airframe\]\].*kind and measured.mass_g"):
        Aeroplane.model_validate(raw)
