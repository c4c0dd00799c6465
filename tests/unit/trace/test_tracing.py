"""From clicked points to keys: exact on drawn demos, and told in a line where they are wrong."""

import json
import tomllib
from dataclasses import astuple

import pytest

from sim.cli import main
from sim.describe import data_folder, load_aeroplane
from sim.record.fields import kind_name
from sim.record.models.trace import TraceRecord
from sim.show.trace.page import picture_uri
from sim.show.trace.steps import steps_of
from sim.show.words.traced import doubts_of
from sim.start.asking.answers import answers_from
from sim.trace.frame import Untraceable, frame_of
from sim.trace.outlines import panel_of
from sim.trace.points import Points
from sim.trace.to_aeroplane import changes_of
from sim.trace.to_answers import answers_of
from sim.trace.traced import traced
from sim.trace.writing import answered, rewritten
from tests.samples.records import valid
from tests.samples.sheets import Sheet

DEMOS = ("display_jet", "club_sport", "twin_delta")


def found(raw):
    return traced(Points.model_validate(raw))


def jet(view="top", turn=0.0):
    return Sheet("display_jet", view, turn).points()


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize(("view", "turn"), [("top", 0.0), ("top", 143.0), ("side", -6.0)])
def test_what_was_drawn_is_traced_to_the_last_digit(name, view, turn):
    plane = load_aeroplane(name)
    changes = changes_of(plane, found(Sheet(name, view, turn).points()))
    assert changes.surfaces
    for i, keys in changes.surfaces.items():
        surface = plane.surfaces[i]
        inside = surface.root_right_mm > 0.0 and view == "top"  # its root lies inside the body
        hidden = {"root_aft_mm", "root_right_mm", "root_chord_mm", "panel_span_mm"}
        for key, value in keys.items():
            if not (inside and key in hidden):
                assert value == pytest.approx(getattr(surface, key), abs=0.02), key
    for (stations,) in [list(changes.stations.values())]:
        for a, b in zip(plane.bodies[0].stations, stations, strict=True):
            for key in ("aft_mm", "width_mm", "height_mm", "up_mm"):
                assert b[key] == pytest.approx(getattr(a, key), abs=0.06)


def test_a_rectangle_by_hand():
    # 100 pixels are 200 mm; nose up, so the right wing is on the right
    raw = {"schema": "aftlimit.points/1", "view": "top", "picture": "p.png", "known_mm": 200.0,
           "known": [[0, 0], [100, 0]], "nose": [[200, 100]], "end": [[200, 500]],
           "surfaces": {"wing": [[220, 200], [420, 250], [420, 300], [220, 300]]}}  # fmt: skip
    wing = found(raw).panels["wing"]
    assert (wing.root_aft, wing.root_out, wing.tip_aft, wing.tip_out) == (200, 40, 300, 440)
    assert (wing.root_chord, wing.tip_chord, wing.slope) == (200.0, 100.0, 0.25)
    assert wing.area == 60000.0
    middle = wing.carried_to(0.0)
    assert (middle.root_chord, middle.root_aft) == (pytest.approx(210.0), pytest.approx(190.0))


def test_the_left_half_is_as_good_as_the_right():
    raw = jet()
    middle = raw["nose"][0][1]
    left = [[x, 2.0 * middle - y] for x, y in raw["surfaces"]["wing"]]
    both = (found(x).panels["wing"] for x in (raw | {"surfaces": {"wing": left}}, raw))
    one, other = (astuple(panel) for panel in both)
    assert one == pytest.approx(other, abs=1e-9)


def swapped(raw, *order):
    wing = raw["surfaces"]["wing"]
    return raw | {"surfaces": {"wing": [wing[i] for i in order]}}


BAD = {
    "crossing corners": (lambda r: swapped(r, 0, 2, 1, 3), "cross or are swapped"),
    "edges swapped": (lambda r: swapped(r, 3, 2, 1, 0), "behind trailing edge"),
    "root for tip": (lambda r: swapped(r, 1, 0, 3, 2), "has no area, or root and tip are swapped"),
    "no area": (lambda r: swapped(r, 0, 0, 0, 0), "has no area"),
    "nose for end": (lambda r: r | {"nose": r["end"], "end": r["nose"], "edge": []},
                     "nose and end of the body swapped"),
    "ahead": (lambda r: r | {"nose": [r["surfaces"]["wing"][2]], "edge": []}, "ahead of the nose"),
    "two ends in one": (lambda r: r | {"known": [[5, 5], [6, 6]]}, "are 1 pixels apart"),
    "edge backwards": (lambda r: r | {"edge": r["edge"][::-1]}, "must run from nose to tail"),
    "slanted": (lambda r: r | {"check": r["known"], "check_mm": 1000.0}, "+15 %"),
    "stands": (lambda r: r | {"view": "side", "nose": [[9, 9]], "end": [[9, 900]]}, "on its end"),
}  # fmt: skip


@pytest.mark.parametrize("case", BAD)
def test_what_is_out_of_order_is_refused_in_a_line(case):
    make, text = BAD[case]
    with pytest.raises(Untraceable, match=text.replace("+", r"\+")):
        found(make(jet()))


@pytest.fixture
def own(tmp_path):
    text = (data_folder("scenarios") / "aeroplanes" / "display_jet.toml").read_text()
    text = text.replace("panel_span_mm = 575.0", "panel_span_in = 20.0   # with a tape", 1)
    path = tmp_path / "own.toml"
    path.write_text(text)
    return path


def trace(own, raw, view="top", name="sheet.png", more=()):
    points = own.with_name("points.json")
    points.write_text(json.dumps(raw))
    wanted = ["--view", view, "--points", str(points), "--into", str(own)]
    return main(["trace", name, *wanted, *more])


def test_only_what_was_traced_changes_and_keeps_comment_and_unit(own, capsys):
    before = own.read_text()
    assert trace(own, jet()) == 0
    after = own.read_text()
    assert "panel_span_in = 22.638   # with a tape\n" in after  # 575 mm
    assert [x for x in before.splitlines() if x.startswith("#")] == [
        x for x in after.splitlines() if x.startswith("#")
    ]
    assert tomllib.loads(before)["parts"] == tomllib.loads(after)["parts"]
    out = capsys.readouterr().out
    assert "surfaces.wing.panel_span_in: 20 -> 22.638" in out
    assert "nothing checks the scale" in out
    assert [x.name for x in own.parent.iterdir()].count("own.toml") == 1
    assert len(list(own.parent.iterdir())) == 2


ASSUMED = ("airframe", "bodies.fuselage.stations", "surfaces.fin.sweep_deg")
LISTS = {
    "a key a line": "assumed = [\n    " + ",\n    ".join(f'"{x}"' for x in ASSUMED) + ",\n]\n",
    "one line": f"assumed = {list(ASSUMED)}   # nobody knows\n",
}


@pytest.mark.parametrize("form", LISTS)
def test_what_was_traced_is_assumed_no_longer_and_told_as_json(own, capsys, form):
    text = own.read_text()
    own.write_text(text.replace("[datum]", f"{LISTS[form]}\n[datum]", 1))
    # from above no height is seen
    assert trace(own, jet()) == 0
    assert load_aeroplane(own).assumed == ASSUMED
    record = own.with_name("t.json")
    assert trace(own, jet("side"), "side", more=("--json", str(record))) == 0
    assert load_aeroplane(own).assumed == ("airframe",)
    assert "bodies.fuselage.stations: assumed -> traced" in capsys.readouterr().out
    content = valid(record)
    written = content["written"]
    assert content["schema"] == kind_name(TraceRecord)
    assert {"key": ASSUMED[2], "was": "assumed", "now": "traced"} in written


def test_json_tells_what_points_changed_and_nothing_without_them(own, capsys):
    assert main(["trace", "sheet.png", "--view", "top", "--json", str(own.with_name("t"))]) == 2
    assert "--json: needs --points" in capsys.readouterr().err


REFUSED = {
    "view": (lambda r: r, "side", "sheet.png", "the views are swapped"),
    "picture": (lambda r: r, "top", "other.png", "must be 'other.png', the picture named"),
    "corners": (lambda r: swapped(r, 0, 1, 2), "top", "sheet.png", "must be 4 corners; got 3"),
    "surface": (lambda r: r | {"surfaces": r["surfaces"] | {"canard": r["surfaces"]["tail"]}},
                "top", "sheet.png", "is not in the aeroplane file"),
    "fin": (lambda r: r | {"surfaces": r["surfaces"] | {"fin": r["surfaces"]["tail"]}},
            "top", "sheet.png", "trace it from the side"),
    "schema": (lambda r: {}, "top", "sheet.png", "must be a file of points"),
    "too large": (lambda r: r | {"known_mm": 19000.0}, "top", "sheet.png", "must be at least"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_the_file_stays_as_it_was_where_points_are_refused(own, capsys, case):
    make, view, picture, text = REFUSED[case]
    before = own.read_bytes()
    assert trace(own, make(jet()), view, picture) == 2
    assert text in capsys.readouterr().err
    assert own.read_bytes() == before
    assert len(list(own.parent.iterdir())) == 2


def test_answers_of_both_views_are_those_a_ruler_gives(tmp_path, capsys):
    path = tmp_path / "answers.toml"
    assert trace(path, jet()) == 0
    raw = jet("side")
    assert trace(path, raw, "side") == 0
    assert f"'aftlimit start {tmp_path}' asks" in " ".join(capsys.readouterr().out.split())
    said, _ = answers_from(path, needed=False)
    assert len(said) == 25
    # the demo's own numbers: span by its dihedral of 1 degree, the wing's edge at the body's side
    ruler = {"wing_span_mm": 1149.8, "body_length_mm": 1360.0, "strake_width_mm": 64.5,
             "tail_span_mm": 510.0, "middle_width_mm": 170.0, "end_width_mm": 80.0,
             "fin_height_mm": 260.0, "fin_root_chord_mm": 220.0, "fin_tip_back_mm": 203.1,
             "middle_height_mm": 113.7, "wing_up_mm": 21.5, "nose_ahead_mm": 643.3}  # fmt: skip
    for key, value in ruler.items():
        assert said[key] == pytest.approx(value, abs=0.6), key


def test_answers_that_start_would_not_take_are_refused_untouched(tmp_path, capsys):
    path = tmp_path / "answers.toml"
    assert trace(path, jet() | {"known_mm": 19000.0}) == 2
    assert "answers.toml: wing_span_mm: must be" in capsys.readouterr().err
    assert [x.name for x in tmp_path.iterdir()] == ["points.json"]


def test_an_answer_keeps_its_unit_and_what_was_left_blank_is_no_longer():
    text = (
        'schema = "aftlimit.answers/1"\nwing_span_in = 40.0 # tape\nleft_blank = ["wing_up_mm"]\n'
    )
    made, told = answered(text, {"wing_span_mm": 1149.8, "wing_up_mm": 21.0})
    assert "wing_span_in = 45.268 # tape\n" in made
    assert tomllib.loads(made)["left_blank"] == []
    assert told[1] == ("wing_up_mm", "-", "21")
    assert answers_of(found(jet()))["wing_span_mm"] == pytest.approx(1149.8, abs=0.1)


def test_a_form_that_cannot_be_edited_is_refused_untouched(own):
    plane = load_aeroplane(own)
    text = own.read_text().replace("tip_chord_mm = 160.0", '"tip_chord_mm" = 160.0')
    raw = jet()
    raw["known_mm"] = 1300.0
    with pytest.raises(Untraceable, match="a key a line"):
        rewritten(text, changes_of(plane, found(raw)))


def test_a_second_length_tells_the_error_of_the_picture():
    raw = jet() | {"check_mm": 1100.0}
    raw["check"] = raw["known"]
    assert "+4.5 %" in doubts_of(found(raw))[0]
    assert doubts_of(found(raw | {"check_mm": 1150.0})) == []


def test_steps_ask_for_a_files_own_surfaces_by_name():
    plane = load_aeroplane("twin_delta")
    top, side = ([s.key for s in steps_of(v, plane.surfaces) if s.surface] for v in ("top", "side"))
    assert (top, side) == (["wing"], ["fins"])


def test_what_is_no_picture_is_refused(tmp_path, capsys):
    path = tmp_path / "plan.svg"
    path.write_text("<svg/>")
    assert main(["trace", str(path), "--view", "top"]) == 2
    assert "must be a PNG, JPEG or WebP" in capsys.readouterr().err
    path.write_bytes(b"\xff\xd8\xff\xe0")
    assert picture_uri(path).startswith("data:image/jpeg;base64,")


def test_frame_and_panel_stand_alone():
    points = Points.model_validate(jet())
    panel = panel_of("tail", points.surfaces["tail"], frame_of(points), True)
    assert panel.tip_out == pytest.approx(255.0)
