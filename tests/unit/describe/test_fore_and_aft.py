"""A surface lies where its role says, ahead of the wing or behind it."""

from sim.describe.fore_and_aft import fore_and_aft


def lying(name, role, aft, **more):
    return {
        "name": name, "role": role, "mirrored": True, "root_aft_mm": aft, "panel_span_mm": 300.0,
        "root_chord_mm": 100.0, "tip_chord_mm": 100.0, "sweep_deg": 0.0, **more,
    }  # fmt: skip


def faults(*surfaces):
    return [fault.text for fault in fore_and_aft({"surfaces": surfaces})]


def test_foreplane_ahead_and_tail_behind_are_right():
    wing = lying("wing", "wing", 0.0)
    assert faults(wing, lying("nose", "canard", -400.0), lying("back", "tail", 500.0)) == []
    assert faults(wing, lying("over", "tail", 0.0), lying("under", "canard", 0.0)) == []


def test_each_that_lies_elsewhere_is_told():
    wing = lying("wing", "wing", 0.0)
    told = faults(wing, lying("nose", "tail", -400.0), lying("back", "canard", 500.0))
    assert len(told) == 2
    assert "ahead of the wing's, 25 mm" in told[0]
    assert 'give role = "tail"' in told[1]
    assert faults(wing, lying("keel", "tail", -400.0, dihedral_deg=-80.0)) == []


def test_a_second_foreplane_is_told():
    nose = lying("nose", "canard", -400.0)
    told = faults(lying("wing", "wing", 0.0), nose, nose | {"name": "second"})
    assert len(told) == 1
    assert "is a second canard beside 'nose'" in told[0]


def test_missing_and_mistyped_keys_have_their_own_faults():
    wing = lying("wing", "wing", 0.0)
    assert faults(lying("nose", "tail", -400.0)) == []
    assert faults(wing, lying("nose", "tail", "-400")) == []
    assert faults(wing, lying("nose", "tail", -400.0, sweep_deg=90.0)) == []
    assert faults(wing, lying("nose", 3, -400.0)) == []
