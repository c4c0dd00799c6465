"""Tables of any width: nothing is lost at 100 columns, however long the names."""

import re

import pytest

from sim.show.console.console import add, render, table
from sim.show.drawing.fitting import fitted, pieces, wrapped

LONG = "smoke_canister_and_large_pack_far_aft_of_the_tray_mark"


@pytest.mark.parametrize("numbers", [3, 8, 14])
@pytest.mark.parametrize("width", [60, 80, 100])
@pytest.mark.parametrize("name", ["club", LONG, "x" * 70])
def test_no_letter_is_lost(numbers, width, name):
    heads = [f"heading number {i}, m/s" for i in range(numbers)]
    out = table("Title", "set-up", "manoeuvre", *heads, left=2)
    values = [f"> {1000 * i + 777}.25" for i in range(numbers)]
    add(out, name, "throttle chop stall", *values)
    text = render([out], width)
    assert max(len(line) for line in text.splitlines()) <= width
    for value in values:
        assert text.count(value) == 1
    # every letter of the long cells stands there, in order, as often as there are parts
    parts = len(fitted(out, width))
    rows = [line for line in text.splitlines() if line.strip()]
    letters = "".join(sorted(re.sub(r"[\s─]", "", "".join(rows[1:]))))
    told = "".join(["set-upmanoeuvre", name, "throttlechopstall"] * parts + [*heads, *values])
    assert letters == "".join(sorted(re.sub(r"\s", "", told)))


def test_names_break_behind_underscores_and_words_between_them():
    assert wrapped("small_pack_far_aft", 11) == "small_pack_\nfar_aft"
    assert wrapped("throttle chop stall", 13) == "throttle chop\nstall"
    assert wrapped("abcdefghij", 4) == "abcd\nefgh\nij"
    assert "".join(pieces(f"a {LONG}  b")) == f"a {LONG}  b"


def test_a_table_that_fits_is_one_and_wraps_nothing():
    out = table("Title", "set-up", "mm", "turn rate wb/2V")
    add(out, "club", "178", "0.12")
    assert render([out]).splitlines() == [
        "Title",
        "set-up    mm   turn rate wb/2V",
        "──────────────────────────────",
        "club     178              0.12",
    ]
