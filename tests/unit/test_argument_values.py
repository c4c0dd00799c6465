"""Values of options: within their bounds, in one unit or another."""

import argparse

import pytest

from sim.argument_values import (
    count,
    draw_count,
    index,
    measure,
    number,
    pixels,
    study_draws,
)


@pytest.mark.parametrize(
    ("read", "good", "bad", "told"),
    [
        (number(1.0, 3000.0, " m"), "120", "0.5", "must be 1 to 3000 m; got 0.5"),
        (index, "0", "-1", "must be 0 or more; got -1"),
        (pixels, "1280", "100", "must be 320 to 3840 pixels; got 100"),
        (count, "2", "0", "must be at least 1; got 0"),
        (study_draws, "512", "500", "must be 64, 128, 256 and so on to 4096; got 500"),
        (study_draws, "64", "8192", "must be 64, 128, 256 and so on to 4096; got 8192"),
        (draw_count, "64", "65", "must be a power of two, 64 or more; got 65"),
    ],
)
def test_bounds_are_told(read, good, bad, told):
    assert read(good) == float(good)
    with pytest.raises(argparse.ArgumentTypeError, match=told):
        read(bad)


def test_the_same_option_in_feet():
    # international foot, 0.3048 m exactly (NIST SP 811, from memory)
    parser = argparse.ArgumentParser()
    measure(parser, "--entry-m", (1.0, 3000.0), "height", 120.0)
    assert parser.parse_args([]).entry_m == 120.0
    assert parser.parse_args(["--entry-ft", "100"]).entry_m == pytest.approx(30.48, abs=1e-9)
