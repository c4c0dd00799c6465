"""What one thing apart does to the limits: here loose weights; throws in test_first."""

from dataclasses import replace

from sim.show.words.places.one_apart import apart_lines
from tests.samples.results import limit, result


def pair():
    """Return today's set-up and one without its lead."""
    one = replace(result().setups[0], name="today", weights="lead 38 g at 820 mm", mass_g=1486.0)
    return one, replace(
        one, name="without", weights="no loose weights", mass_g=1448.0, balance_aft_mm=69.7
    )


def test_taking_lead_out_is_told_with_mass_balance_and_both_limits():
    one, two = pair()
    limits = (
        replace(limit(one.pack, 100.0), setups=("today",)),
        replace(limit(one.pack, 96.0), setups=("without",), key="without"),
    )
    study = replace(result(), setups=(two, one), aft_limits=limits, today="today")
    (told,) = apart_lines(study)
    place = f"{int(one.balance_aft_mm)} mm"
    assert told == (
        f"Loose weights, pack {one.pack}: no loose weights (without) instead of lead 38 g at 820 "
        "mm (today): aft limit 96 mm (95 % limits 90 to 100) instead of 100 mm (95 % limits 94 to "
        "104), which these draws do not tell apart; 1448 instead of 1486 g, balanced at 69 mm "
        f"instead of {place}."
    )
    # far enough apart, nothing takes it back
    far = replace(study, aft_limits=(limits[0], replace(limits[1], low_mm=60.0, high_mm=70.0)))
    assert "do not tell apart" not in apart_lines(far)[0]


def test_what_has_todays_weights_is_the_one_compared_with():
    one, two = pair()
    now = replace(one, name="now", pack="other")
    study = replace(result(), setups=(two, one, now), aft_limits=(), today="now")
    (told,) = apart_lines(study)
    assert "no loose weights (without) instead of lead" in told
    assert "not searched with either" in told


def test_what_differs_in_two_things_is_not_compared():
    one, two = pair()
    both = replace(two, throws="tail 20/20°")
    assert apart_lines(replace(result(), setups=(one, both), aft_limits=(), today="today")) == []
