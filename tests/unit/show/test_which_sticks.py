"""Which sticks bring it back: the recovery that stands, and where centred sticks do as well."""

from dataclasses import replace

from sim.describe import load_recovery
from sim.show.words.recovery.on_paper import on_paper_text
from sim.show.words.recovery.which_sticks import also_do, centring_text, sticks_line
from tests.samples.results import MANOEUVRES, case, result, setup, summaries

REQUIRED = 90.0


def hurried(centre_lost: int = 1):
    """Return a set-up of which rudder is better in spins, and centred sticks do in stalls."""
    cases = (
        case("chop", "centre", summaries(128, 0, 20.0)),
        case("chop", "rudder_forward", summaries(128, 0, 18.0)),
        case("spin", "centre", summaries(128, centre_lost + 40, 30.0, spun=96)),
        case("spin", "rudder_forward", summaries(128, 1, 30.0, spun=96)),
    )
    return replace(setup("club", 150.0, 0), cases=cases)


def test_what_else_meets_it_is_told_beside_the_recovery_that_stands():
    one = hurried()
    assert [(x.recovery, x.manoeuvre) for x in also_do(one, REQUIRED)] == [("centre", "chop")]
    told = sticks_line(replace(result(), setups=(one,), today="club", required_share_pct=REQUIRED))
    assert told == (
        "What brings today's back, after chop and spin: rudder forward (rudder against, stick "
        "forward); shown to do as well: centre in chop (128 of 128). Height lost from the first "
        "input to level, by 95 % of those flown: 14 m in chop and 21 m in spin."
    )


def test_what_is_not_enough_says_so_and_still_names_the_sticks():
    lost = replace(hurried(), cases=hurried().cases[2:3])
    study = replace(result(), setups=(lost,), today="club", required_share_pct=REQUIRED)
    told = sticks_line(study)
    assert told.startswith("The best tried for today's, NOT enough, after spin: centre (")
    assert told.endswith("by 95 % of those flown: more than 250 m in spin.")
    assert sticks_line(replace(study, today=None)) == ""


def test_the_card_tells_where_centred_sticks_do_and_no_other_recovery():
    named = {"centre": load_recovery("centre_sticks"), "rudder_forward": None}
    told = centring_text(hurried(), named, REQUIRED)
    assert told == "Throttle closed, all sticks centred does too: 128 of 128 in chop back."
    # with power on it is another recovery, and one that steers is not centring
    for other in ("centre_sticks_power", "rudder_forward"):
        assert centring_text(hurried(), {"centre": load_recovery(other)}, REQUIRED) == ""
    assert set(MANOEUVRES) == {"chop", "spin"}


def test_heights_above_the_ceiling_are_told_of_today_and_of_the_most():
    now = hurried()
    high = tuple(replace(x, rows=summaries(128, 0, 70.0)) for x in now.cases[2:])
    other = replace(now, name="aft", balance_aft_mm=160.0, cases=(*now.cases[:2], *high))
    study = replace(
        result(), setups=(now, other), today="club", required_share_pct=REQUIRED, ceiling_m=60.0,
        aft_limits=(),
    )  # fmt: skip
    told = on_paper_text(study)
    assert "spin needs 75 m today and up to 115 m (aft; flown from 120 m)" in told
