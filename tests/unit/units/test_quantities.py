"""Numbers as they are told: by default as Python has them, in inches and ounces as fine."""

import math
from concurrent.futures import ThreadPoolExecutor

import pytest

from sim.units.quantities import (
    AREA,
    HEIGHT,
    INERTIA,
    LENGTH,
    LOADING,
    MASS,
    SPEED,
    TEMPERATURE,
    TORQUE,
    Chosen,
    chosen,
    using_units,
)


@pytest.mark.parametrize("spec", [".0f", "+.0f", ".1f", "g", ".3g", "+.1f", ">8.0f"])
def test_by_default_it_is_pythons_own_format(spec):
    for value in (0.0, -0.6, 12.345, -187.5, math.inf):
        assert LENGTH(value, spec) == f"{value:{spec}} mm"
        assert SPEED.figure(value, spec) == f"{value:{spec}}"


def test_in_inches_and_ounces_it_is_as_fine():
    with using_units("oz-in"):
        assert LENGTH(1.0) == "0.05 in"
        assert LENGTH(187.0) == "7.35 in"
        assert LENGTH(187.3, ".1f") == "7.375 in"
        assert LENGTH(25.4, "+.0f") == "+1.00 in"
        assert LENGTH(-0.1) == "0.00 in"
        assert LENGTH(12.7, "g") == "0.5 in"
        assert MASS(35.0) == "1.25 oz"
        assert HEIGHT(120.0) == "394 ft"
        assert SPEED(17.3, ".1f") == "38.7 mph"
        assert AREA(31.2, ".1f") == "484 in²"
        assert LOADING(62.0) == "20.3 oz/ft²"
        assert INERTIA(0.0823, ".4f") == "4500 oz in²"
        assert TORQUE(30.0) == "42 oz in"
        assert TEMPERATURE(15.0) == "59 °F"
        assert f"height, {HEIGHT}" == "height, ft"


def test_a_limit_is_never_rounded_past_it_in_millimetres_either():
    """69.5 mm is not to be told as 70 where 70 lies beyond it: forward is safe."""
    assert LENGTH.at_most(69.5) == LENGTH.at_most(69.999) == "69"
    assert LENGTH.ahead(69.5) == "69 mm"
    assert LENGTH.ahead(-69.5) == "-70 mm"  # ahead of the datum, forward is more
    assert LENGTH.at_most(70.0 - 1e-9) == "70"  # the last bits of what is 70
    assert LENGTH.at_least(69.1) == "70"
    assert LENGTH.at_most(69.57, ".1f") == "69.5"
    assert HEIGHT.at_least(95.2) == "96"
    assert LENGTH.at_most(-0.0) == LENGTH.at_least(-0.4) == "0"
    assert LENGTH.ahead(None) == LENGTH.at_most(None) == "-"


def test_a_limit_is_never_rounded_past_it():
    with using_units("oz-in"):
        for mm in range(100, 300):
            said = float(LENGTH.at_most(mm))
            assert mm - 1.27 - 1e-9 <= said * 25.4 <= mm + 1e-9
            assert float(HEIGHT.at_least(mm)) * 0.3048 >= mm - 1e-9
        assert LENGTH.at_most(177.8) == "7.00"
        assert LENGTH.at_least(177.8) == "7.00"


def test_speeds_apart():
    with using_units("g-mm", "km/h"):
        assert SPEED(10.0) == "36 km/h"
        assert LENGTH(10.0) == "10 mm"
    with using_units("oz-in", "m/s"):
        assert SPEED(10.0, ".1f") == "10.0 m/s"


def test_what_is_chosen_holds_within_alone():
    with using_units("oz-in"):
        with using_units():
            assert chosen() == Chosen()
        assert chosen() == Chosen("oz-in")
        with ThreadPoolExecutor(1) as pool:
            assert pool.submit(chosen).result() == Chosen()
    assert chosen() == Chosen()


@pytest.mark.parametrize("wrong", [("inch",), ("g-mm", "knots")])
def test_what_is_no_system_is_refused(wrong):
    with pytest.raises(ValueError, match=r"must be .* or .*; got"), using_units(*wrong):
        pass
