"""A recording from a stranger is played, or refused by the key that is wrong: never half of it."""

import json
from pathlib import Path

import pytest

from sim.cli import main
from sim.describe import FileFault
from sim.record.models.playable import MOST_ITEMS
from sim.show.replay.track import read_track

ROWS = 5


def shell(hinge=None):
    """Return a tetrahedron."""
    points = [0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1]
    corners = [0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3]
    return {"name": "wing", "kind": "wing", "vertices": points, "triangles": corners,
            "hinge": hinge}  # fmt: skip


def a_recording():
    """Return a small recording, typed here by hand."""
    zero = [0] * ROWS
    columns = dict.fromkeys(
        ["north_m", "east_m", "q1", "q2", "q3", "alpha_deg", "beta_deg", "p_dps", "q_dps",
         "r_dps", "speed_mps", "climb_mps", "load_g", "elevator", "aileron", "rudder",
         "throttle"], zero,
    )  # fmt: skip
    columns |= {"t_s": [0, 1, 2, 3, 4], "up_m": [100, 90, 80, 75, 72], "q0": [1] * ROWS}
    columns["surfaces"] = {"tail_right": zero}
    hinge = {"channel": "tail_right", "point": [0, 0, 0], "axis": [0, 1, 0], "sign": 1}
    return {
        "schema": "aftlimit.recording/2", "version": "0.1.0", "title": "a flight",
        "aeroplane": "mine", "setup": "club", "pack": "p", "balance_aft_mm": 100,
        "manoeuvre": "m", "recovery": "r", "draw": None, "seed": None, "side": "right",
        "verdict": "recovered", "height_lost_m": 20, "entry_m": 120, "floor_m": 40, "rate_hz": 1,
        "stall_alpha_deg": 14, "stall_inverted_deg": 12, "columns": columns,
        "events": [{"name": "stall", "t_s": 1}],
        "phases": [{"stage": "entry", "name": "pull", "from_s": 0}],
        "mesh": {"unit": "m", "axes": "x forward", "origin_aft_mm": 100, "span_m": 1.1,
                 "length_m": 1.0, "parts": [shell(hinge), shell()]},
    }  # fmt: skip


def written(told, tmp_path):
    path = tmp_path / "flight.json"
    path.write_text(told if isinstance(told, str) else json.dumps(told), encoding="utf-8")
    return path


def test_a_sound_one_is_read(tmp_path):
    track = read_track(written(a_recording(), tmp_path))
    assert track.end == 4.0
    assert track.place(0.5)[2] == 95.0


ONES = {
    "columns.up_m.0": (1e300, "columns.up_m[1]: must be at least -4000 and at most 4000; got 1e+3"),
    "columns.north_m.2": (-1e9, "columns.north_m[3]: must be at least -20000 and at most 20000;"),
    "columns.t_s.1": (0, "columns.t_s[2]: must rise from row to row; 0 comes after 0"),
    "columns.t_s.4": (1e7, "columns.t_s[5]: must be at least -3600 and at most 3600; got 1e+07"),
    "columns.q0.3": (0, "columns.q0[4]: must be a rotation with q1, q2 and q3, of size 1; got 0"),
    "columns.alpha_deg": ([1, 2], "columns.alpha_deg: must be as long as t_s, 5; got 2 numbers"),
    "columns.alpha_deg.0": (None, "columns.alpha_deg[1]: must be a number; got null"),
    "columns.surfaces.tail_right": ([], "columns.surfaces.tail_right: must be as long as t_s, 5;"),
    "columns.surfaces": ([], "columns.surfaces: must be a table of keys; got an empty list"),
    "columns.t_s": ([1], "columns.t_s: must hold 2 to 20000 times; got 1"),
    "columns": (None, "columns: must be a table of keys; got null"),
    "mesh.parts.0.triangles.2": (4, "mesh.parts.wing.triangles[3]: must be the number of a verte"),
    "mesh.parts.0.triangles": ([0, 1], "mesh.parts.wing.triangles: must hold threes of numbers,"),
    "mesh.parts.0.vertices": ([], "mesh.parts.wing.vertices: must hold threes of numbers, at most"),
    "mesh.parts.0.vertices.1": (1e9, "mesh.parts.wing.vertices[2]: must be at least -100 and at"),
    "mesh.parts.0.hinge.axis": ([1], "mesh.parts.wing.hinge.axis: must be three numbers; got 1"),
    "mesh.parts.0.hinge.point.0": (1e9, "mesh.parts.wing.hinge.point[1]: must be at least -100"),
    "mesh.parts.0.hinge.sign": (3, "mesh.parts.wing.hinge.sign: must be 1 or -1; got 3"),
    "mesh.span_m": (0, "mesh.span_m: must be above 0 and at most 100; got 0"),
    "mesh.parts": ([shell()] * (MOST_ITEMS + 1), "mesh.parts: must hold at most 500; got 501"),
    "events": ([{"name": "x", "t_s": 1}] * 501, "events: must hold at most 500; got 501"),
    "events.0.t_s": (1e9, "events[1].t_s: must be at least -3600 and at most 3600; got 1e+09"),
    "phases.0.from_s": ("x", "phases.pull.from_s: must be a number; got 'x'"),
    "floor_m": (1e300, "floor_m: must be at least -4000 and at most 4000; got 1e+300"),
    "balance_aft_mm": (1e12, "balance_aft_mm: must be at least -100000 and at most 100000; got"),
    "title": ("a\x1b[2Jb", "title holds the control character U+001B; leave it out"),
    "draw": (10**400, "draw is a whole number beyond all bounds"),
    "zzz": (1, "zzz: is no key of this table; keys:"),
}  # fmt: skip


def put(told, place, value):
    """Return a recording with one value changed."""
    *way, last = (int(x) if x.isdigit() else x for x in place.split("."))
    told = json.loads(json.dumps(told))
    holder = told
    for step in way:
        holder = holder[step]
    holder[last] = value
    return told


@pytest.mark.parametrize("place", ONES)
def test_a_recording_with_something_wrong_is_refused_by_its_key(place, tmp_path):
    value, said = ONES[place]
    with pytest.raises((FileFault, ValueError)) as caught:
        read_track(written(put(a_recording(), place, value), tmp_path))
    assert said in str(caught.value)
    assert str(caught.value).count("\n") == 0


def test_whatever_is_missing_is_told(tmp_path):
    told = a_recording()
    for holder in (told, told["columns"], told["mesh"], told["mesh"]["parts"][0]):
        for key in list(holder):
            value = holder.pop(key)
            with pytest.raises((FileFault, ValueError), match=r"missing|lacks|must be a rec|lack"):
                read_track(written(told, tmp_path))
            holder[key] = value


TEXTS = [
    "", "null", "[]", "3", '"x"', "{", "\ufeff{}", "[" * 100_000, '{"a":' * 100_000, "1e999",
    '{"schema": "aftlimit.recording/2"}', '{"schema": "aftlimit.recording/2", "columns": []}',
    '{"schema": ["aftlimit.recording/2"]}', '{"schema": {"a": NaN}}',
]  # fmt: skip


@pytest.mark.parametrize("text", TEXTS)
def test_what_is_no_recording_is_refused_in_few_lines(text, tmp_path, capsys):
    assert main(["replay", str(written(text, tmp_path)), "--json", str(tmp_path / "out")]) == 2
    told = capsys.readouterr().err
    assert "Traceback" not in told
    assert len(told) < 3000
    assert [path.name for path in Path(tmp_path).iterdir()] == ["flight.json"]


def test_what_is_no_file_to_read_is_refused(tmp_path, capsys):
    binary = tmp_path / "a.json"
    binary.write_bytes(b"\xff\xfe\x00\x01")
    for name in (binary, tmp_path):
        assert main(["replay", str(name)]) == 2
        assert capsys.readouterr().err.count("\n") == 1
