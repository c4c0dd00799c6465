"""The words a user sees for each kind of slip in an aeroplane file."""

from pathlib import Path

import pytest

from sim.describe import FileFault, load_aeroplane, resolve_setup

SAMPLE = Path(__file__).with_name("sample_jet.toml")
GOOD = SAMPLE.read_text(encoding="utf-8")

SLIPS = {
    "negative": (
        ("panel_span_mm = 575.0", "panel_span_mm = -1200"),
        "surfaces.wing.panel_span_mm: must be at least 20 and at most 10000 mm; got -1200",
    ),
    "metres": (
        ("panel_span_mm = 575.0", "panel_span_mm = 0.575"),
        "surfaces.wing.panel_span_mm: must be at least 20 and at most 10000 mm; got 0.575",
    ),
    "true for a number": (
        ("panel_span_mm = 575.0", "panel_span_mm = true"),
        "surfaces.wing.panel_span_mm: must be a number, at least 20 and at most 10000 mm; got true",
    ),
    "number in quotes": (
        ("panel_span_mm = 575.0", 'panel_span_mm = "575"'),
        "surfaces.wing.panel_span_mm: must be a number, at least 20 and at most 10000 mm "
        "(without quotes); got '575'",
    ),
    "not a number": (
        ("panel_span_mm = 575.0", "panel_span_mm = nan"),
        "surfaces.wing.panel_span_mm: must be at least 20 and at most 10000 mm; got nan",
    ),
    "a fin that does not say how it stands": (
        ("dihedral_deg = 90.0\n", ""),
        "surfaces.fin.dihedral_deg: is missing; a fin needs it, for without it lies flat: 90 is "
        "upright (15 to 90, or -15 to -90 for one that hangs)",
    ),
    "a fin that lies": (
        ("dihedral_deg = 90.0", "dihedral_deg = 0.0"),
        "surfaces.fin.dihedral_deg: must be 15 to 90, or -15 to -90 for one that hangs; got 0, "
        'which lies flat (a lying surface is a "tail" or "canard")',
    ),
    "a tail ahead of the wing": (
        ("root_aft_mm = 500.0", "root_aft_mm = -500.0"),
        "surfaces.tail.role: is 'tail', but its quarter chord, -399 mm aft, lies ahead of the "
        'wing\'s, 231 mm; give role = "canard"',
    ),
    "a canard behind the wing": (
        ('role = "tail"', 'role = "canard"'),
        "surfaces.tail.role: is 'canard', but its quarter chord, 601 mm aft, lies behind the "
        'wing\'s, 231 mm; give role = "tail"',
    ),
    "misspelt dihedral of a fin, told once": (
        ("dihedral_deg = 90.0", "diehdral_deg = 90.0"),
        "surfaces.fin.diehdral_deg: is no key of this table; did you mean 'dihedral_deg'?",
    ),
    "misspelt key, which leaves another missing": (
        ("panel_span_mm = 575.0", "panel_span = 575"),
        "surfaces.wing.panel_span: is no key of this table; did you mean 'panel_span_mm'?",
    ),
    "missing key": (
        ("panel_span_mm = 575.0\n", ""),
        "surfaces.wing.panel_span_mm: is missing; give a number, at least 20 and at most 10000 mm",
    ),
    "unlike any key": (
        ("[structure]", "[structure]\nzzz = 1"),
        "structure.zzz: is no key of this table; keys: max_load_factor_g, never_exceed_mps",
    ),
    "a gain without a servo": (
        ("stick = { rudder = 1.0 }", "stick = { elevator = 0.2 }"),
        "gyro.yaw_gain: has no servo to move: no channel answers to the rudder stick; set it to 0, "
        "or give a channel stick = { rudder = 1.0 }",
    ),
    "a dial's misspelt axis": (
        ("[gyro]\n", "[gyro]\nsurface_deg_per_dps_at_100_pct = { yav = 0.5 }\n"),
        "gyro.surface_deg_per_dps_at_100_pct.yav: is no key of this table; did you mean 'yaw'?",
    ),
    "choice": (
        ('edge = "round" }\nstrips = 10', 'edge = "rund" }\nstrips = 10'),
        "surfaces.wing.section.edge: must be 'round' or 'sharp'; got 'rund'; did you mean 'round'?",
    ),
    "whole number": (
        ("strips = 10", "strips = 10.5"),
        "surfaces.wing.strips: must be a whole number, at least 1 and at most 60; got 10.5",
    ),
    "true or false": (
        ("mirrored = true\nroot_aft_mm = 0.0", 'mirrored = "yes"\nroot_aft_mm = 0.0'),
        "surfaces.wing.mirrored: must be true or false; got 'yes'",
    ),
    "table": (
        ('[datum]\ntext = "leading edge of the wing at the centreline"', 'datum = "nose"'),
        "datum: must be a table of keys; got 'nose'",
    ),
    "schema": (
        ('"aftlimit.aeroplane/1"', '"aftlimit.aeroplane/9"'),
        "schema: must be 'aftlimit.aeroplane/1'; got 'aftlimit.aeroplane/9'",
    ),
    "hub": (
        ("hub_mm = 30.0", "hub_mm = 86.0"),
        "fan_units.f80.hub_mm: must be less than duct_mm, 80; got 86",
    ),
    "nozzle wider than its duct": (
        ("nozzle_mm = 70.0", "nozzle_mm = 84.0"),
        "fans.fan.nozzle_mm: is wider than the duct, 80 mm; a nozzle must be 44 to 80 mm for this "
        "fan; got 84",
    ),
    "pinhole of a nozzle": (
        ("nozzle_mm = 70.0", "nozzle_mm = 40.0"),
        "fans.fan.nozzle_mm: must be 44 to 80 mm for this fan's ring; got 40",
    ),
    "more current without load than the controller lets through": (
        ("limit_a = 100.0", "limit_a = 3.0"),
        "motors.m1750.no_load_current_a: must be less than limit_a of controller 'esc100', 3; "
        "got 3.5",
    ),
    "stations": (
        ("aft_mm = -400.0, width", "aft_mm = -500.0, width"),
        "bodies.fuselage.stations[2].aft_mm: must lie aft of the station before it, -480 mm; got "
        "-500",
    ),
    "flap inside out": (
        ("inner_pct = 55.0", "inner_pct = 97.0"),
        "surfaces.wing.controls.aileron.inner_pct: must be less than outer_pct, 95; got 97",
    ),
    "pointed tip": (
        ("tip_chord_mm = 160.0", "tip_chord_mm = 0"),
        "surfaces.wing.tip_chord_mm: must be at least 5 and at most 3000 mm; got 0",
    ),
    "undefined channel": (
        ('channel = "aileron"', 'channel = "ailron"'),
        "surfaces.wing.controls.ailron.channel: names 'ailron', which is not there; "
        "did you mean 'aileron'? channels: aileron, tail, rudder",
    ),
    "undefined servo": (
        ('servo = "metal_18g"', 'servo = "metal_19g"'),
        "channels.tail.servo: names 'metal_19g', which is not there; did you mean 'metal_18g'? "
        "servo types: metal_13g, metal_18g",
    ),
    "missing pack": (
        ('pack = "6s_4000"\nbalance', 'pack = "lipo"\nbalance'),
        "setups.club.pack: names 'lipo', which is not there; packs: 6s_3300, 6s_4000, 6s_5000, "
        "6s_2600",
    ),
    "missing set-up to start from": (
        ('pack = "6s_4000"\nbalance_aft_mm = 213.0', 'like = "displey"'),
        "setups.club.like: names 'displey', which is not there; did you mean 'display'? "
        "set-ups: display",
    ),
    "a C-rate that no pack has": (
        ("resistance_mohm = 24.0", "resistance_mohm = 24.0\nmax_c = 500"),
        "packs.6s_3300.max_c: must be at least 0.5 and at most 200 C, times the capacity; got 500",
    ),
    "a C-rate that this pack cannot have": (
        ("resistance_mohm = 24.0", "resistance_mohm = 44.0\nmax_c = 100"),
        "packs.6s_3300.max_c: cannot be: with resistance_mohm, 44, this pack gives no more power "
        "above 286 A, 87 C; got 100; a label's C is often more than the pack can, look at both",
    ),
    "a burst below what lasts": (
        ("resistance_mohm = 24.0", "resistance_mohm = 24.0\nmax_c = 40\nburst_c = 30"),
        "packs.6s_3300.burst_c: must be no less than max_c, 40: a burst is more than what lasts; "
        "got 30",
    ),
    "resistance said twice": (
        ("resistance_mohm = 24.0", 'resistance_mohm = 24.0\ncondition = "tired"'),
        "packs.6s_3300.condition: has no meaning beside resistance_mohm, which is taken as it is; "
        "leave out one of the two",
    ),
    "shares that are no whole": (
        (
            "[structure]",
            "[duty]\ncruise_pct = 60\nmanoeuvring_pct = 20\nclimb_pct = 10\n"
            "high_alpha_pct = 20\n\n[structure]",
        ),
        "duty: holds shares of 110 % together; they must make 100 %",
    ),
    "a share left out": (
        (
            "[structure]",
            "[duty]\ncruise_pct = 60\nmanoeuvring_pct = 30\nclimb_pct = 10\n\n[structure]",
        ),
        "duty.high_alpha_pct: is missing; give all four shares, 0 for what is not flown",
    ),
    "charged after nobody knows how long": (
        ('pack = "6s_4000"\nbalance', 'pack = "6s_4000"\nmah_put_back = 1800\nbalance'),
        "setups.club.after_minutes: is missing; mah_put_back alone tells no current, give both",
    ),
    "pack placed twice": (
        ("balance_aft_mm = 213.0", "balance_aft_mm = 213.0\npack_aft_mm = -100.0"),
        "setups.club: gives both pack_aft_mm and balance_aft_mm; give one, the other follows "
        "from it",
    ),
    "pack placed nowhere": (
        ("balance_aft_mm = 213.0", ""),
        "setups.club: must say where the pack lies: give pack_aft_mm or balance_aft_mm",
    ),
    "tray back to front": (
        ("front_aft_mm = -240.0", "front_aft_mm = 150"),
        "tray.front_aft_mm: must lie forward of (below) rear_aft_mm, 130; got 150",
    ),
    "tray outside": (
        ("rear_aft_mm = 130.0", "rear_aft_mm = 700"),
        "tray.rear_aft_mm: must lie inside a body, from -480 to 640 mm; got 700",
    ),
    "missing size": (
        ("length_mm = 75.0\nwidth_mm = 36.0\n", "length_mm = 75.0\n"),
        "parts.speed controller.width_mm: is missing; a box needs it",
    ),
    "share of nothing": (
        ('of = "strake"', 'of = "strakes"'),
        "airframe.strakes.of: names 'strakes', which is not there; did you mean 'strake'? "
        "surfaces and bodies: wing, strake, tail, fin, fuselage",
    ),
    "fan out of order": (
        ("inlet_aft_mm = -60.0", "inlet_aft_mm = 260.0"),
        "fans.fan.aft_mm: must lie between inlet_aft_mm, 260, and nozzle_aft_mm, 640; got 235",
    ),
    "not TOML": (
        ("[structure]", "[structure"),
        "line 17, column 11, reads  [structure  and is not valid TOML: a ] is missing: [structure]",
    ),
}


def changed(folder: Path, *changes: tuple[str, str]) -> Path:
    text = GOOD
    for old, new in changes:
        assert old in text, f"the sample no longer holds {old!r}"
        text = text.replace(old, new, 1)
    path = folder / "display_jet.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("slip", SLIPS)
def test_one_slip_gives_one_line(tmp_path, slip):
    change, words = SLIPS[slip]
    with pytest.raises(FileFault) as caught:
        load_aeroplane(changed(tmp_path, change))
    assert str(caught.value) == f"display_jet.toml: {words}"


GAINS = (
    "three numbers, each at least 0 and at most 3, in a list such as [1.0, 0.9, 0.7]: the factor "
    "on the gains at idle, half and full throttle"
)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("", f"is missing; give {GAINS}"),
        ("throttle_schedule = 1.0", f"must be {GAINS}; got 1.0"),
        ("throttle_schedule = [1.0]", f"must be {GAINS}; got 1 of them"),
        ("throttle_schedule = [1.0, 1.0, 1.0, 1.0]", f"must be {GAINS}; got 4 of them"),
    ],
)
def test_throttle_schedule_says_what_it_holds(tmp_path, given, said):
    line = next(x for x in GOOD.splitlines() if x.startswith("throttle_schedule"))
    path = tmp_path / "jet.toml"
    path.write_text(GOOD.replace(line, given), encoding="utf-8")
    with pytest.raises(FileFault) as caught:
        load_aeroplane(path)
    assert str(caught.value) == f"jet.toml: gyro.throttle_schedule: {said}"


def test_an_empty_aeroplane_is_told_in_one_line(tmp_path):
    path = tmp_path / "jet.toml"
    path.write_text("", encoding="utf-8")
    with pytest.raises(FileFault) as caught:
        load_aeroplane(path)
    assert str(caught.value) == (
        "jet.toml: is empty; begin with schema = 'aftlimit.aeroplane/1', or copy one from the "
        "folder scenarios and change it"
    )


def test_a_tail_in_one_piece_from_left_to_right(tmp_path):
    # its span was taken as nothing: a division by zero
    path = changed(
        tmp_path,
        ('role = "fin"\nmirrored = false', 'role = "tail"\nmirrored = false'),
        ("root_aft_mm = 410.0\nroot_right_mm = 0.0", "root_aft_mm = 410.0\nroot_right_mm = -130.0"),
        ("dihedral_deg = 90.0\n", ""),
    )
    with pytest.raises(FileFault) as caught:
        load_aeroplane(path)
    assert str(caught.value) == (
        "display_jet.toml: surfaces.fin.root_right_mm: must not be negative: one panel that lies "
        "runs from its root to the right; got -130 (for both sides give mirrored = true and half "
        "the span)"
    )


def test_whole_numbers_serve_as_floats(tmp_path):
    path = changed(tmp_path, ("panel_span_mm = 575.0", "panel_span_mm = 575"))
    assert load_aeroplane(path) == load_aeroplane(SAMPLE)


def test_all_faults_of_a_file_at_once(tmp_path):
    path = changed(
        tmp_path,
        ("root_chord_mm = 360.0", "root_chord_mm = 0.36"),
        ("title = ", "tittle = "),
        ('pack = "6s_4000"\nbalance', 'pack = "lipo"\nbalance'),
    )
    with pytest.raises(FileFault) as caught:
        load_aeroplane(path)
    assert [fault.path for fault in caught.value.faults] == [
        "surfaces.wing.root_chord_mm",
        "tittle",
        "setups.club.pack",
    ]


def test_set_ups_in_a_circle(tmp_path):
    path = changed(tmp_path, ('pack = "6s_4000"\nbalance', 'like = "turned"\nbalance'))
    path.write_text(path.read_text() + '\n[setups.turned]\nlike = "club"\n')
    with pytest.raises(FileFault) as caught:
        load_aeroplane(path)
    assert "setups.club.like: goes in a circle, club -> turned -> club; one must stand" in str(
        caught.value
    )


def test_measured_needs_a_placed_pack(tmp_path):
    table = '[measured]\nsetup = "club"\nmass_g = 2400\n\n[setups.club]'
    with pytest.raises(FileFault) as caught:
        load_aeroplane(changed(tmp_path, ("[setups.club]", table)))
    assert str(caught.value) == (
        "display_jet.toml: measured.setup: must name a set-up that gives pack_aft_mm, so that "
        "the pack's share is known; such set-ups: display"
    )


def test_unknown_bundled_name():
    with pytest.raises(FileFault, match="no bundled file of this name; did you mean 'display_jet'"):
        load_aeroplane("display_jt")


def test_missing_file_says_what_is_there(tmp_path):
    path = changed(tmp_path)
    with pytest.raises(FileFault) as caught:
        load_aeroplane(path.with_name("display_jets.toml"))
    assert str(caught.value).endswith(
        "display_jets.toml: there is no such file; did you mean 'display_jet.toml'? in that "
        "folder: display_jet.toml"
    )


def test_unknown_set_up():
    with pytest.raises(FileFault) as caught:
        resolve_setup(load_aeroplane(SAMPLE), "clb")
    assert str(caught.value) == (
        "display_jet: has no set-up 'clb'; did you mean 'club'? set-ups: club, display"
    )


def test_not_text(tmp_path):
    path = tmp_path / "odd.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(FileFault) as caught:
        load_aeroplane(path)
    assert str(caught.value) == "odd.toml: is not text in UTF-8; save it as UTF-8"
