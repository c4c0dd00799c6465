"""Tables of a file held against each other, without the models."""

from sim.describe.cross_checks import aeroplane_faults, setup_faults


def test_a_set_up_with_a_pack_that_is_not_there_is_told_with_the_nearest():
    aeroplane = {"packs": {"6s_4000": {}, "6s_5000": {}}}
    faults = setup_faults({"pack": "6s_400"}, "setups.club", aeroplane, ())
    (told,) = (fault for fault in faults if fault.path == "setups.club.pack")
    assert "'6s_400'" in told.text
    assert "6s_4000" in told.text


def test_two_surfaces_of_one_name_are_told():
    raw = {"surfaces": [{"name": "wing"}, {"name": "wing"}]}
    told = {fault.path: fault.text for fault in aeroplane_faults(raw)}
    assert told["surfaces.wing"] == "name is used twice; give each its own"
