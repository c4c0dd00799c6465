"""Ranges of told numbers: a minus sign is never lost among dashes."""

import pytest

from sim.show.report.shares import limit_cells
from sim.show.words.places.limits import ends_cell, interval_text
from sim.study.results.aft_limit import ManoeuvreLimit
from sim.units.quantities import LENGTH, using_units
from sim.units.ranges import range_cell, range_words


@pytest.mark.parametrize(
    ("low", "high", "cell", "words"),
    [
        ("179", "190", "179-190", "179 to 190"),
        ("-3", "24", "-3 to 24", "from -3 to 24"),
        ("-34", "-25", "-34 to -25", "from -34 to -25"),
    ],
)
def test_a_range_keeps_its_signs(low, high, cell, words):
    assert (range_cell(low, high), range_words(low, high)) == (cell, words)


def test_limits_that_reach_forward_of_the_datum_keep_their_sign():
    assert interval_text(-2.6, 24.3) == "95 % limits from -3 to 24"
    assert ends_cell(-34.0, -25.0) == "-34 to -25"
    limit = ManoeuvreLimit("chop", 16.0, -2.6, 24.3, False, 17.0)
    assert limit_cells(limit) == ("16", "-3 to 24")
    with using_units("oz-in"):
        assert limit_cells(limit)[1].startswith("-0.")


def test_nothing_is_told_as_minus_nought():
    assert LENGTH(-0.3) == "0 mm"
    assert LENGTH(-0.04, "+.1f") == "+0.0 mm"
    assert LENGTH(-0.6) == "-1 mm"
