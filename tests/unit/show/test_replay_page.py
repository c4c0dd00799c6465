"""The flights in a page: packed small, told without script, and in need of nothing outside."""

import base64
import json
import re
from html.parser import HTMLParser
from pathlib import Path

import numpy as np
import pytest
from hatchling.builders.sdist import SdistBuilder
from hatchling.builders.wheel import WheelBuilder
from hypothesis import given
from hypothesis import strategies as st

from sim.describe import load_aeroplane
from sim.record.models.recording import Columns
from sim.show.replay.page import (
    FOLDER,
    SCRIPTS,
    packed,
    packed_flights,
    replay_section,
)
from sim.show.replay.recording import MOST_ROWS
from sim.show.shapes.mesh import mesh_of
from tests.samples.flown import page_of, recordings

ROOT = Path(__file__).parents[3]
MOST_BYTES = 60_000
VOID = {"meta", "br", "wbr", "img", "link", "input", "hr"}


@pytest.fixture(scope="module")
def flights():
    return recordings()


@pytest.fixture(scope="module")
def text(flights):
    return page_of(flights)


def unpacked(column):
    raw = np.frombuffer(base64.b64decode(column["packed"]), dtype=f"<u{column['bytes']}")
    steps = raw if raw.size else np.zeros(column["count"])
    return column["least"] + column["step"] * steps


@given(
    st.lists(st.floats(-1e4, 1e4), min_size=1, max_size=50),
    st.sampled_from([1, 2]),
)
def test_packing_is_off_by_half_a_step_at_most(values, size):
    column = packed(values, size)
    assert column["count"] == len(values)
    spread = max(values) - min(values)
    allowed = 0.5 * spread / (256**size - 1) + 1e-9
    np.testing.assert_allclose(unpacked(column), values, rtol=0.0, atol=allowed)


def test_whole_numbers_stay_as_they_are():
    values = [0, 65535, 7, 258]
    assert unpacked(packed(values, 2, whole=True)).tolist() == values
    with pytest.raises(ValueError, match="wing: must be from 0 to 65535; got 65536"):
        packed([65536], 2, "wing", whole=True)


def test_what_is_no_number_is_refused():
    with pytest.raises(ValueError, match="alpha_deg: must be numbers throughout; got nan"):
        packed([1.0, float("nan")], 2, "alpha_deg")


def test_no_flights_no_section():
    assert replay_section([]) is None


def test_each_part_of_an_aeroplane_is_stored_once(flights):
    club, big, other = flights
    assert club.mesh.origin_aft_mm == big.mesh.origin_aft_mm
    # the same aeroplane balanced 12.3 mm further aft: its points lie so much further forward
    mesh = mesh_of(load_aeroplane("display_jet"), big.mesh.origin_aft_mm + 12.3)
    aft = big.model_copy(update={"mesh": mesh})
    told = packed_flights([club, big, aft, other])
    numbers = [flight["parts"] for flight in told["flights"]]
    assert numbers[0] == numbers[1] == numbers[2]
    assert not set(numbers[0]) & set(numbers[3])
    assert len(told["parts"]) == len(set(numbers[0])) + len(set(numbers[3]))
    forward = [flight["forward_m"] for flight in told["flights"]]
    assert forward[2] - forward[0] == pytest.approx(0.0123)


def test_parts_lie_where_the_mesh_has_them(flights):
    told = packed_flights(flights)
    for flight, recording in zip(told["flights"], flights, strict=True):
        for number, part in zip(flight["parts"], recording.mesh.parts, strict=True):
            points = unpacked(told["parts"][number]["vertices"]).reshape(-1, 3)
            points[:, 0] += flight["forward_m"]
            wanted = np.reshape(part.vertices, (-1, 3))
            np.testing.assert_allclose(points, wanted, atol=0.002)
            hinge = told["parts"][number]["hinge"]
            assert (hinge is None) == (part.hinge is None)
            if hinge is not None:
                moved = np.add(hinge["point"], [flight["forward_m"], 0.0, 0.0])
                np.testing.assert_allclose(moved, part.hinge.point, atol=0.002)


def longest(recording):
    """Return a recording with as many rows as one may have, of numbers without pattern."""
    rng = np.random.default_rng(5)
    rows = MOST_ROWS + 2

    def filled(names):
        return {name: rng.uniform(-90.0, 90.0, rows).tolist() for name in names}

    old = recording.columns
    new = filled(name for name in Columns.model_fields if name != "surfaces")
    new |= {"surfaces": filled(old.surfaces), "t_s": np.linspace(0.0, 60.0, rows).tolist()}
    return recording.model_copy(update={"columns": old.model_copy(update=new)})


def size_of(flights):
    return len(replay_section(flights).parts[0].encode())


def test_one_flight_adds_less_than_60_kb(flights):
    alone = [longest(flights[0])]
    size = size_of(alone)
    same = size_of([*alone, longest(flights[1])]) - size
    other = size_of([*alone, longest(flights[2])]) - size
    viewer = size - len(json.dumps(packed_flights(alone), separators=(",", ":")))
    assert same < other < MOST_BYTES
    assert size - viewer < MOST_BYTES
    assert same > 20_000  # the columns are all there


def test_needs_nothing_from_outside(text):
    assert "http" not in text
    assert not re.search(r"\b(src|srcset|action)\s*=", text)
    assert "href" not in text
    assert "@import" not in text
    assert "url(" not in text


class _Nesting(HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.faults, self.words = [], [], []

    def handle_starttag(self, tag, attrs):
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.faults.append(tag)

    def handle_data(self, data):
        if self.open and self.open[-1] not in ("script", "style"):
            self.words.append(data)


def test_well_nested_whatever_a_title_holds(text):
    parser = _Nesting()
    parser.feed(text)
    assert not parser.faults
    assert not parser.open
    assert "display_jet, club </script> & more" in "".join(parser.words)


def test_without_script_and_on_paper_a_table_tells_the_flights(flights):
    parser = _Nesting()
    parser.feed(replay_section(flights).parts[0])
    words = " ".join("".join(parser.words).split())
    for recording in flights:
        assert recording.verdict in words
        for event in recording.events:
            assert f"{event.name} {event.t_s:.1f} s" in words


def test_every_file_of_the_viewer_is_used_and_short():
    assert {path.name for path in FOLDER.glob("*.js")} == set(SCRIPTS)
    for path in FOLDER.iterdir():
        assert len(path.read_text(encoding="utf-8").splitlines()) < 300, path.name


@pytest.mark.parametrize("builder", [WheelBuilder, SdistBuilder])
def test_viewer_travels_with_the_package(builder):
    files = builder(str(ROOT)).recurse_included_files()
    names = {file.distribution_path for file in files}
    for name in (*SCRIPTS, "viewer.css", "player.html"):
        assert f"sim/show/replay/viewer/{name}" in names
