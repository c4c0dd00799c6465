"""Models: strict, frozen, and the same from a file as from Python."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from sim.describe import (
    Fan,
    LooseWeight,
    Part,
    PropellerUnit,
    SetUpBlock,
    Surface,
    Tray,
    bundled,
    data_folder,
    load_aeroplane,
    resolve_setup,
)

DROOP = {"down_deg": 20, "chord_pct": 15}
WING = {
    "name": "wing",
    "role": "wing",
    "mirrored": True,
    "root_aft_mm": 0,
    "root_right_mm": 0,
    "root_up_mm": 0,
    "panel_span_mm": 500,
    "root_chord_mm": 300,
    "tip_chord_mm": 200,
    "sweep_deg": 10,
    "section": {"thickness_pct": 10, "edge": "round"},
    "strips": 8,
}
BLADE = {
    "diameter_mm": 300,
    "pitch_mm": 150,
    "blades": 2,
    "radii_pct": [20, 60, 100],
    "chord_pct_of_diameter": [6, 8, 3],
    "rotor_inertia_kgm2": 1e-4,
    "rotates": "clockwise",
}


def refused(model, values):
    with pytest.raises(ValidationError) as caught:
        model.model_validate(values)
    return str(caught.value)


@pytest.mark.parametrize("name", bundled("aeroplanes"))
def test_every_bundled_aeroplane_is_whole(name):
    aeroplane = load_aeroplane(name)
    assert aeroplane.name == name
    assert "invented" in aeroplane.invented
    assert len(aeroplane.packs) >= 3
    assert len(aeroplane.setups) >= 2
    for setup in aeroplane.setups:
        assert set(resolve_setup(aeroplane, setup).throws) == set(aeroplane.channels)


def test_there_are_three_kinds_of_aeroplane():
    assert {"display_jet", "club_sport", "twin_delta"} <= set(bundled("aeroplanes"))
    assert load_aeroplane("club_sport").propellers
    assert len(load_aeroplane("twin_delta").fans) == 2


def test_data_folder_is_the_repositorys_own():
    assert (data_folder("aero_tables").parent / "pyproject.toml").is_file()


def test_models_are_frozen_and_strict():
    wing = Surface.model_validate(WING)
    with pytest.raises(ValidationError):
        wing.sweep_deg = 20.0
    assert isinstance(wing.panel_span_mm, float)
    assert "must be a number" in refused(Surface, WING | {"sweep_deg": False})
    assert "must be" in refused(Surface, WING | {"sweep_deg": float("inf")})


@given(st.floats(allow_nan=True, allow_infinity=True))
def test_a_number_is_taken_only_inside_its_range(value):
    taken = 20.0 <= value <= 10000.0
    try:
        Surface.model_validate(WING | {"panel_span_mm": value})
    except ValidationError:
        assert not taken
    else:
        assert taken


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"mirrored": False}, "half a wing"),
        ({"root_right_mm": -10}, "must not be negative on a mirrored surface"),
        ({"leading_edge_vortex": True}, "needs a sharp edge"),
        ({"droop": DROOP | {"inner_pct": 80, "outer_pct": 60}}, "must be less than outer_pct, 60"),
        ({"droop": DROOP, "dihedral_deg": 90}, "has no effect: only what lies"),
        ({"droop": DROOP | {"down_deg": -5}}, "must be at least 0.5"),
    ],
)
def test_surfaces_that_contradict_themselves(change, words):
    assert words in refused(Surface, WING | change)


def test_two_flaps_may_not_overlap():
    flap = {"channel": "a", "kind": "flap", "inner_pct": 10, "outer_pct": 60, "chord_pct": 25}
    other = flap | {"channel": "b", "inner_pct": 50, "outer_pct": 90}
    assert "must be at least 60" in refused(Surface, WING | {"controls": [other, flap]})
    Surface.model_validate(WING | {"controls": [flap, other | {"inner_pct": 60}]})


def test_a_control_holds_what_its_kind_needs():
    moving = {"channel": "tail", "kind": "all_moving"}
    assert "pivot_pct: is missing" in refused(Surface, WING | {"controls": [moving]})
    both = moving | {"pivot_pct": 25, "chord_pct": 20}
    assert "chord_pct: does not belong" in refused(Surface, WING | {"controls": [both]})


@pytest.mark.parametrize(
    ("shape", "sizes", "words"),
    [
        ("point", {"length_mm": 10}, "does not belong to a point"),
        ("bar", {}, "length_mm: is missing"),
        ("box", {"length_mm": 10, "width_mm": 10}, "height_mm: is missing"),
        ("shell", {"length_mm": 10}, "diameter_mm: is missing"),
    ],
)
def test_a_part_has_the_sizes_of_its_shape(shape, sizes, words):
    part = {"name": "x", "mass_g": 10, "shape": shape, "aft_mm": 0, "right_mm": 0, "up_mm": 0}
    assert words in refused(Part, part | sizes)


def test_a_mirrored_part_is_off_the_centreline():
    part = {"name": "x", "mass_g": 10, "shape": "point", "aft_mm": 0, "right_mm": 0, "up_mm": 0}
    assert "both would coincide" in refused(Part, part | {"mirrored": True})


def test_propeller_blade_lists_agree():
    PropellerUnit.model_validate(BLADE)
    assert "one chord for each" in refused(PropellerUnit, BLADE | {"chord_pct_of_diameter": [6, 8]})
    assert "must rise" in refused(PropellerUnit, BLADE | {"radii_pct": [60, 20, 100]})
    assert "times diameter_mm" in refused(PropellerUnit, BLADE | {"pitch_mm": 30})


def test_tray_and_fan_run_aft():
    assert "must lie forward" in refused(Tray, {"front_aft_mm": 0, "rear_aft_mm": 0})
    fan = load_aeroplane("twin_delta").fans[0].model_dump()
    assert "must lie between" in refused(Fan, fan | {"nozzle_aft_mm": 400})


def test_a_set_up_starts_from_another():
    sport = load_aeroplane("club_sport")
    club, aerobatic = resolve_setup(sport), resolve_setup(sport, "aerobatic")
    assert (club.name, club.pack, club.balance_aft_mm) == ("club", "4s_3300", 68.0)
    assert aerobatic.pack == club.pack
    assert aerobatic.balance_aft_mm == 84.0
    assert aerobatic.throws["elevator"].up_deg == 28.0
    assert club.throws["elevator"].up_deg == sport.channels["elevator"].up_deg
    assert club.gyro == "off"


def test_a_pack_position_replaces_a_balance_point_and_single_throws_merge():
    sport = load_aeroplane("club_sport")
    block = SetUpBlock(
        like="aerobatic",
        pack_aft_mm=-50.0,
        throws={"rudder": {"up_deg": 10, "down_deg": 10}},
        gyro="on",
        gyro_change={"roll_gain": 0.1},
    )
    setup = resolve_setup(sport, block)
    assert (setup.pack_aft_mm, setup.balance_aft_mm) == (-50.0, None)
    assert setup.throws["rudder"].up_deg == 10.0
    assert setup.throws["elevator"].up_deg == 28.0
    assert setup.gyro_settings.roll_gain == 0.1
    assert setup.gyro_settings.pitch_gain == sport.gyro.pitch_gain


def test_loose_weights_replace_the_whole_list():
    jet = load_aeroplane("display_jet")
    assert resolve_setup(jet, "display").loose_weights
    assert resolve_setup(jet, SetUpBlock(like="display", loose_weights=[])).loose_weights == ()
    lead = LooseWeight(name="lead", mass_g=20, aft_mm=-400)
    setup = resolve_setup(jet, SetUpBlock(like="display", loose_weights=[lead]))
    assert setup.loose_weights == (lead,)
