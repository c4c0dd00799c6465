"""The spreads of the build-up's own errors are those that the residuals leave."""

from types import SimpleNamespace

import numpy as np
import pytest

from sim import tables
from sim.core.draw_layout import ERROR_NAMES as NAMES
from sim.tables.reading import tables_folder
from tests.validation import spread_tables, whole_spreads
from tests.validation.whole import DRAWS
from tests.validation.whole_data import PLAIN, Found, Place, find, read

CASES = whole_spreads.cases()


def made_up(measured, ours, drawn):
    """Return a Found of one Cm and CZ at 25 deg, ours and drawn as given."""
    places = [Place("Cm", PLAIN, 25.0), Place("CZ", PLAIN, 25.0)]
    return Found(
        dict.fromkeys(places, measured), dict.fromkeys(places, ours),
        dict.fromkeys(places, np.array(drawn)), None,
    )  # fmt: skip


def test_what_is_left_is_the_difference_less_what_draws_explain():
    case = SimpleNamespace(pitch_added=None)
    some = [
        (case, made_up(0.0, 0.5, [0.2, 0.8])),  # 0.25; its draws have a variance of 0.09
        (case, made_up(0.0, 0.1, [0.1, 0.1])),  # 0.01; theirs none
    ]
    found = [s for s in whole_spreads.spreads(some) if s.name == "pitch_error"]
    pitch, later = found[3:5]
    assert pitch.left == pytest.approx(((0.25 + 0.01) / 2.0 - 0.09 / 2.0) ** 0.5)
    assert pitch.explained == pytest.approx((0.09 / 2.0) ** 0.5)
    assert pitch.aeroplanes == 2
    # not measured beyond: carried on
    assert (later.aeroplanes, later.left) == (0, pitch.left)


def test_draws_that_explain_more_than_there_is_leave_half():
    case = SimpleNamespace(pitch_added=None)
    found = whole_spreads.spreads([(case, made_up(0.0, 0.1, [-0.9, 0.9]))])
    stalled = [s for s in found if s.band[0] >= 20.0 and s.aeroplanes]
    assert {round(s.left, 6) for s in stalled} == {0.05}


def test_air_from_above_has_bands_of_its_own_and_beyond_the_stall_no_smaller_ones():
    case = SimpleNamespace(pitch_added=None)
    places = [Place(name, PLAIN, a) for name in ("Cm", "CZ") for a in (-70.0, -25.0, -8.0, 25.0)]
    ours = dict.fromkeys(places, 0.0)
    ours |= {places[0]: 0.4, places[1]: 0.1, places[2]: 0.3, places[3]: 0.2}
    quiet = {p: np.full(2, x) for p, x in ours.items()}
    found = Found(dict.fromkeys(places, 0.0), ours, quiet, None)
    made = whole_spreads.spreads([(case, found)])
    left = {s.band: s.left for s in made if s.name == "pitch_error"}
    assert left[20.0, 35.0] == pytest.approx(0.2)
    assert left[-12.0, -2.5] == pytest.approx(0.3)
    assert left[-20.0, -12.0] == pytest.approx(0.3)  # carried on
    assert left[-35.0, -20.0] == pytest.approx(0.2)  # measured 0.1
    assert left[-90.0, -60.0] == pytest.approx(0.4)


def test_the_mean_before_the_stall_is_the_trim_error():
    places = [Place(name, PLAIN, a) for name in ("Cm", "CZ") for a in (4.0, 8.0)]
    ours = dict.fromkeys(places, 0.0) | {places[0]: 0.04, places[1]: 0.08}
    found = Found(
        dict.fromkeys(places, 0.0), ours, {p: np.full(2, x) for p, x in ours.items()}, None
    )
    case = SimpleNamespace(pitch_added=None)
    left = {(s.name, s.band): s.left for s in whole_spreads.spreads([(case, found)])}
    assert left["trim_error", (2.5, 12.0)] == pytest.approx(0.06)
    assert left["pitch_error", (2.5, 12.0)] == pytest.approx(0.02)
    assert left["trim_error", (20.0, 35.0)] == 0.0


def test_what_another_error_moves_already_is_explained():
    # the share that tail_power_error moves the moment by moves the force as well
    by = whole_spreads.BESIDE["tail_lift_error"]
    band, other = (2.5, 12.0), whole_spreads.Spread(by, (2.5, 12.0), 1, 0.3, 0.0, 0.3)
    moved = whole_spreads._moved([other], "tail_lift_error", band)
    assert (moved, whole_spreads._moved([other], "rudder_roll_error", band)) == (0.3, 0.0)
    assert whole_spreads._moved([other], "tail_lift_error", (12.0, 20.0)) == 0.0
    places = [Place("CZ", PLAIN, 5.0)]
    found = Found(
        {places[0]: 0.5}, {places[0]: 0.0}, {places[0]: np.zeros(2)}, None
    )  # fmt: skip
    some = whole_spreads.direct_plain(found)
    made = whole_spreads._spread("tail_lift_error", band, some, moved)
    assert made.left == pytest.approx((0.5**2 - 0.3**2) ** 0.5)


def test_spreads_are_put_into_the_tables_and_nothing_else_is(tmp_path):
    paths = [tables_folder() / name for name in ("uncertainty.toml", "error_model.toml")]
    before = [path.read_text() for path in paths]
    for path, text in zip(paths, before, strict=True):
        (tmp_path / path.name).write_text(text)
    lefts = {"axial_force_error": [0.0, 0.1, 0.2, 0.4, 0.6, 0.8]}
    lefts["axial_force_error"] += [0.0, 0.0, 0.0, 0.2, 1.2]
    written = spread_tables.write(tmp_path, lefts, 3, 6)
    after = [path.read_text() for path in written]
    changed = [
        [line for line in new.splitlines() if line not in old.splitlines()]
        for new, old in zip(after, before, strict=True)
    ]
    below, above = "[0.0, 0.25, 0.5, 1.0, 1.5, 2.0]", "[0.0, 0.0, 0.0, 0.5, 3.0]"
    lines = [f"axial_force_error = {shape}" for shape in (below, above)]
    assert changed == [["sd = 0.4"], lines]
    assert '"axial_force_error"\nsd = 0.4\n' in after[0]


def test_an_error_that_no_table_has_is_told_and_nothing_written(tmp_path):
    for name in ("uncertainty.toml", "error_model.toml"):
        (tmp_path / name).write_text('[[entries]]\nname = "some"\nsd = 1.0\n')
    with pytest.raises(ValueError, match="some: must stand in its table once; stands there 0"):
        spread_tables.write(tmp_path, {"some": [1.0] * 11}, 3, 6)
    assert "sd = 1.0" in (tmp_path / "uncertainty.toml").read_text()


def test_a_shape_is_one_where_spreads_are_told_or_where_it_is_most():
    assert spread_tables.sized([0.0, 0.1, 0.2, 0.4], 3) == (0.4, [0.0, 0.25, 0.5, 1.0])
    assert spread_tables.sized([0.03, 0.02, 0.0, 0.0], 3)[0] == 0.03


@pytest.mark.skipif(len(CASES) < 2, reason="../shared/data is not there")
def test_the_tables_hold_what_the_script_finds():
    # to a tenth of the largest: the tables have two figures
    found = [(c, find(c.load(), read(c.data), DRAWS, errors=False)) for c in CASES]
    entries = {entry.name: entry.sd for entry in tables.uncertainty().entries}
    table = tables.error_model()
    assert set(table.shapes) == set(table.from_above) == set(NAMES)
    made = whole_spreads.spreads(found)
    for name in whole_spreads.ERRORS:
        left = [s.left for s in made if s.name == name]
        held = [entries[name] * x for x in (*table.shapes[name], *table.from_above[name])]
        assert held == pytest.approx(left, abs=0.1 * max(left)), name
