"""That a row counts as independent only where it is, and that what it says of itself is true."""

from collections import defaultdict

import numpy as np
import pytest

from sim.tables.reading import read_csv, read_toml
from tests.validation import __main__ as command
from tests.validation.collecting import all_rows, within_and_total
from tests.validation.made_from import citations, parts, tables_read, unmoved
from tests.validation.rows import Row, absolute
from tests.validation.sources import own, products

# the second is for rows that count whole degrees
FACTORS = (1.1, 0.5)
LONG = 50


@pytest.fixture(scope="module")
def everything():
    return all_rows()


def row(**basis):
    return Row(
        "closed_form", "", "x", 1.0, lambda: 1.0, absolute(0.1), "published", "", **basis
    )  # fmt: skip


@pytest.mark.parametrize(
    ("basis", "kind"),
    [
        ({}, "closed form"),
        ({"observed": True}, "independent"),
        ({"made_from": "a.csv: b"}, "given back"),
        ({"observed": True, "made_from": "a.csv: b", "apart": "no"}, "given back"),
    ],
)
def test_kinds(basis, kind):
    assert row(**basis).kind == kind


@pytest.mark.parametrize("provenance", ["computed", "library"])
def test_what_was_computed_is_never_independent(provenance):
    computed = Row("x", "", "x", 1.0, float, absolute(1.0), provenance, observed=True)
    assert computed.kind == "closed form"


def test_a_row_given_back_is_counted_apart():
    three = [row(), row(observed=True), row(observed=True, made_from="a.csv: b")]
    found = within_and_total(three)
    assert found == {"independent": (1, 1), "closed form": (1, 1), "given back": (1, 1)}
    lines = command.counts(three)
    assert lines[0].startswith("Independent rows within tolerance: 1 of 1. ")
    assert lines[0].endswith("from memory: 0 of 0.")
    assert lines[2] == "Given back, counted in neither (+): 1 of 1."


def declared(rows):
    """Return the rows given back by what they say they are made from."""
    groups = defaultdict(list)
    for one in rows:
        if one.made_from:
            groups[one.made_from].append(one)
    return groups


def test_what_a_row_is_made_from_moves_it(everything):
    still = {
        made_from: [one.quantity for one in group]
        for made_from, given in declared(everything).items()
        if (group := unmoved(given, made_from, FACTORS))
    }
    assert still == {}


def test_a_row_that_is_not_made_from_a_table_does_not_move():
    # so that the check above can fail
    fixed = [row(observed=True)]
    assert unmoved(fixed, "vortex_burst.csv: burst_alpha_deg", FACTORS) == fixed


def test_an_independent_row_of_a_source_the_program_cites_says_why(everything):
    mute = [
        (one.source, one.quantity, citations()[one.source])
        for one in everything
        if one.kind == "independent" and one.source in citations() and not one.apart
    ]
    assert mute == []
    assert {"sheldahl1981", "eiffel1910", "timmer2010"} <= citations().keys()


def numbers(value):
    """Return every number in a table's values."""
    if isinstance(value, np.ndarray):
        return value[np.isfinite(value)].tolist() if value.dtype.kind == "f" else []
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        return [x for part in value for x in numbers(part)]
    return [value] if isinstance(value, float) else []


def standing(one):
    """Return "table: key" where a table the program reads holds a row's number.

    Tables that cite its source only, and no long columns, where any number stands by chance.
    """
    ends = one.published if isinstance(one.published, tuple) else (one.published,)
    for name in sorted(tables_read() & set(citations().get(one.source, ()))):
        content = read_csv(name).columns if name.endswith(".csv") else read_toml(name).values
        for key, value in content.items():
            held = numbers(value)
            if len(held) < LONG and all(any(abs(end - x) <= 1e-9 for x in held) for end in ends):
                yield f"{name}: {key}"


def test_no_independent_row_moves_with_its_own_number_in_a_table(everything):
    held = [
        (one, place) for one in everything if one.kind == "independent" for place in standing(one)
    ]
    assert len(held) > 3  # Eiffel's 6° of aspect ratio 6 among them
    moved = [(one.quantity, place) for one, place in held if not unmoved([one], place, (1.02,))]
    assert moved == []


def test_the_declarations_name_tables_and_functions(everything):
    places = {parts(made_from)[0] for made_from in declared(everything)}
    assert {place for place in places if place.endswith((".csv", ".toml"))} <= tables_read()
    assert all(parts(made_from)[1][0] for made_from in declared(everything))
    known = own().keys() | products().keys()
    assert {one.source for one in everything} <= known
