"""Reference lengths, the balance solver, and measurements against the ledger."""

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.describe import FileFault, Measured, SetUpBlock, SwingTest, bundled, load_aeroplane
from sim.weigh import OutOfReachError, reference, weigh_set_up, weigh_table

# a jet that does not change with the demo
JET = load_aeroplane(Path(__file__).parents[2] / "setup_errors" / "sample_jet.toml")
# of sums of products of order 1000 mm
ROUNDING_MM = 1e-9


def with_wing(**changes):
    wing = JET.surfaces[0].model_copy(update=changes)
    return JET.model_copy(update={"surfaces": (wing, *JET.surfaces[1:])})


@pytest.mark.parametrize(
    ("taper", "share"),
    # ⅔ (1+λ+λ²)/(1+λ), computed, printed to six figures
    [(0.5, 0.777778), (0.3, 0.712821)],
)
def test_mean_chord_of_a_straight_taper(taper, share):
    tapered = with_wing(root_chord_mm=300.0, tip_chord_mm=300.0 * taper, dihedral_deg=0.0)
    assert reference(tapered).mean_chord_m / 0.3 == pytest.approx(share, abs=5e-7)


def test_swept_wing_reference():
    ref = reference(with_wing(dihedral_deg=0.0))
    half, root, tip = 0.575, 0.36, 0.16
    taper = tip / root
    assert ref.span_m == pytest.approx(1.15)
    assert ref.area_m2 == pytest.approx(half * (root + tip))
    # spanwise place of the mean chord of a straight taper: b/6 (1+2λ)/(1+λ)
    out = half / 3 * (1 + 2 * taper) / (1 + taper)
    assert ref.mean_chord_aft_m == pytest.approx(out * math.tan(math.radians(30.0)))


def test_the_wing_is_carried_on_across_the_body():
    apart = reference(with_wing(root_right_mm=50.0, tip_chord_mm=360.0, sweep_deg=0.0))
    assert apart.mean_chord_m == pytest.approx(0.36)
    assert apart.area_m2 == pytest.approx(apart.span_m * 0.36)
    assert apart.mean_chord_aft_m == pytest.approx(0.0)
    assert apart.aft_m(apart.pct_mac(0.123)) == pytest.approx(0.123)


@settings(deadline=None)
@given(st.sampled_from(sorted(JET.packs)), st.floats(190.0, 268.0))
def test_wanted_balance_is_what_comes_out(pack, wanted):
    weighed = weigh_set_up(JET, SetUpBlock(pack=pack, balance_aft_mm=wanted))
    assert weighed.balance_aft_mm == pytest.approx(wanted, abs=ROUNDING_MM)
    tray = JET.tray
    assert tray.front_aft_mm <= weighed.pack_aft_mm <= tray.rear_aft_mm
    if weighed.added_weights:
        assert weighed.pack_aft_mm in (tray.front_aft_mm, tray.rear_aft_mm)
    elif tray.front_aft_mm < weighed.pack_aft_mm < tray.rear_aft_mm:
        again = weigh_set_up(JET, SetUpBlock(pack=pack, pack_aft_mm=weighed.pack_aft_mm))
        assert again.balance_aft_mm == pytest.approx(wanted, abs=ROUNDING_MM)


def test_the_stated_reach_is_the_reach():
    with pytest.raises(OutOfReachError) as caught:
        weigh_set_up(JET, SetUpBlock(pack="6s_5000", balance_aft_mm=400.0))
    said = str(caught.value)
    front, rear = (float(x) for x in said.split("within reach: ")[1].split(" mm")[0].split(" to "))
    weigh_set_up(JET, SetUpBlock(pack="6s_5000", balance_aft_mm=rear - 0.1))
    weigh_set_up(JET, SetUpBlock(pack="6s_5000", balance_aft_mm=front + 0.1))
    with pytest.raises(OutOfReachError):
        weigh_set_up(JET, SetUpBlock(pack="6s_5000", balance_aft_mm=rear + 0.1))
    with pytest.raises(OutOfReachError):
        weigh_set_up(JET, SetUpBlock(pack="6s_5000", balance_aft_mm=front - 0.1))


def test_out_of_reach_names_file_both_units_and_what_mends_it():
    for wanted, way in ((400.0, "rear_aft"), (1.0, "front_aft")):
        with pytest.raises(OutOfReachError) as caught:
            weigh_set_up(JET, SetUpBlock(pack="6s_5000", balance_aft_mm=wanted))
        said = str(caught.value)
        assert said.startswith("display_jet.toml: setups.")
        assert f"{wanted:.1f} mm ({wanted / 25.4:.2f}" in said
        assert f"tray.{way}_mm" in said
        assert "weight_places" in said
        assert said.endswith("another pack")


def test_added_weight_by_hand():
    # at 265 mm the heavy pack is at the tray's rear end; one weight, one arm
    weighed = weigh_set_up(JET, SetUpBlock(pack="6s_5000", balance_aft_mm=265.0))
    ((spot, grams),) = weighed.added_weights
    held = weigh_set_up(JET, SetUpBlock(pack="6s_5000", pack_aft_mm=JET.tray.rear_aft_mm))
    assert spot == "tail cone"
    by_hand = 1000 * held.mass_kg * (265.0 - held.balance_aft_mm) / (610.0 - 265.0)
    assert grams == pytest.approx(by_hand)


def test_every_pack_of_the_jet_reaches_25_to_45_percent():
    ref = reference(JET)
    for pack in JET.packs:
        for pct in (25.0, 35.0, 45.0):
            wanted = 1000.0 * ref.aft_m(pct)
            weighed = weigh_set_up(JET, SetUpBlock(pack=pack, balance_aft_mm=wanted))
            assert weighed.balance_pct_mac == pytest.approx(pct)


def test_a_smaller_pack_in_the_same_place_moves_the_balance_aft():
    # common practice, no source: the usual hidden cause of tail-heaviness
    heavy = weigh_set_up(JET, SetUpBlock(pack="6s_4000", pack_aft_mm=-100.0))
    light = weigh_set_up(JET, SetUpBlock(pack="6s_2600", pack_aft_mm=-100.0))
    assert light.balance_aft_mm > heavy.balance_aft_mm + 10.0


@pytest.mark.parametrize("name", bundled("aeroplanes"))
def test_bundled_aeroplanes_weigh_sensibly(name):
    aeroplane = load_aeroplane(name)
    for setup in aeroplane.setups:
        weighed = weigh_set_up(aeroplane, setup)
        tensor = weighed.inertia_kg_m2
        roll, pitch, yaw = np.diag(tensor)
        assert roll < pitch < yaw < roll + pitch
        np.testing.assert_allclose(tensor, tensor.T, atol=1e-15)
        # left and right are alike
        assert abs(weighed.balance_m[1]) < 1e-13
        assert abs(tensor[0, 1]) < 1e-13
        assert abs(tensor[1, 2]) < 1e-13
        assert 5.0 < weighed.wing_loading_kg_m2 < 10.0
        assert 10.0 < weighed.balance_pct_mac < 40.0
        assert sum(row.mass_kg for row in weighed.rows) == pytest.approx(weighed.mass_kg)


def test_table_puts_both_sides_in_one_line():
    weighed = weigh_set_up(JET)
    lines = {line.name: line for line in weigh_table(weighed)}
    assert lines["main leg"].count == 2
    assert lines["main leg"].mass_g == pytest.approx(136.0)
    assert (lines["main leg"].aft_mm, lines["main leg"].right_mm) == pytest.approx((285.0, 105.0))
    assert sum(line.mass_g for line in lines.values()) == pytest.approx(1000 * weighed.mass_kg)


def measured(**values):
    return JET.model_copy(update={"measured": Measured(setup="display", **values)})


def test_scales_and_balance_stand_override():
    plain = weigh_set_up(JET, "display")
    other = measured(mass_g=2600.0, balance_aft_mm=plain.balance_aft_mm + 4.0)
    weighed = weigh_set_up(other, "display")
    assert weighed.mass_kg == pytest.approx(2.6)
    assert weighed.balance_aft_mm == pytest.approx(plain.balance_aft_mm + 4.0)
    assert "scales say 2600 g" in weighed.notes[0]
    assert "(+4.0 mm)" in weighed.notes[1]
    # the same airframe without the canister: 95 g less, whatever the scales changed
    without = weigh_set_up(other, SetUpBlock(like="display", loose_weights=[]))
    assert without.mass_kg == pytest.approx(2.6 - 0.095)


def swing(inertia_kg_m2, mass_g=2500.0):
    # the bifilar formula solved for the period
    mass, spacing, length = mass_g / 1000.0, 0.4, 1.5
    period = 4 * math.pi / spacing * math.sqrt(length * inertia_kg_m2 / (mass * 9.80665))
    return SwingTest(mass_g=mass_g, wire_spacing_mm=400.0, wire_length_mm=1500.0, period_s=period)


def test_swings_replace_the_diagonal_where_measured():
    weighed = weigh_set_up(measured(pitch_swing=swing(0.21), yaw_swing=swing(0.25)), "display")
    plain = weigh_set_up(JET, "display")
    assert weighed.inertia_kg_m2[1, 1] == pytest.approx(0.21)
    assert weighed.inertia_kg_m2[2, 2] == pytest.approx(0.25)
    assert weighed.inertia_kg_m2[0, 0] == pytest.approx(plain.inertia_kg_m2[0, 0])
    assert weighed.inertia_kg_m2[0, 2] == pytest.approx(plain.inertia_kg_m2[0, 2])
    assert len(weighed.notes) == 2


def test_impossible_swings_are_refused():
    with pytest.raises(FileFault, match=r"inertias no body can have.*yaw exceeds the sum"):
        weigh_set_up(measured(yaw_swing=swing(0.9)), "display")


def test_scales_below_what_is_carried_are_refused():
    with pytest.raises(FileFault, match="must exceed the 735 g of pack and loose weights"):
        weigh_set_up(measured(mass_g=700.0), "display")
