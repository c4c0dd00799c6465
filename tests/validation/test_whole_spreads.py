"""The spreads of the build-up's own errors are those that the residuals leave."""

from types import SimpleNamespace

import numpy as np
import pytest

from sim import tables
from sim.core.draw_layout import ERROR_NAMES as NAMES
from tests.validation import whole_spreads
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


@pytest.mark.skipif(len(CASES) < 2, reason="../shared/data is not there")
def test_the_tables_hold_what_the_script_finds():
    # to a tenth of the largest: the tables have two figures
    found = [(c, find(c.load(), read(c.data), DRAWS, errors=False)) for c in CASES]
    entries = {entry.name: entry.sd for entry in tables.uncertainty().entries}
    shapes = tables.error_model().shapes
    assert set(shapes) == set(NAMES)
    made = whole_spreads.spreads(found)
    for name in whole_spreads.ERRORS:
        left = [s.left for s in made if s.name == name]
        held = [entries[name] * share for share in shapes[name]]
        assert held == pytest.approx(left, abs=0.1 * max(left)), name
