"""A deep stall: what counts as one, the names it gives to a loss, and how it is left."""

import json
from dataclasses import replace

import numpy as np
import pytest

from sim.core import script_layout as s
from sim.core.layout import (
    E_STALL_ALPHA,
    E_STALL_INVERTED,
    N_ENV,
    N_PILOT,
    P_PERCEPTION,
    P_STICK_RATE,
)
from sim.core.pilot.pilot import move_sticks
from sim.describe import FileFault, load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import judge_array
from sim.judge import Hang, Reason, has_hung, reasons_of, shares_of, typical_hangs
from sim.record.models.deep_stall import deep_stall_row
from sim.show.card.heights import SHORT
from sim.show.console.console import render
from sim.show.console.results.study import study_tables
from sim.show.report.report import report_html
from sim.show.words.findings.answer import headline, setup_sentence
from sim.show.words.recovery.deep_stall import card_line, lost_text, seen_text, verdict_text
from sim.show.words.recovery.sticks import recovery_steps
from sim.study.results.set_up import DeepStall, Heights, HungIn, WayOut
from tests.samples.results import result as sample_result
from tests.unit.core.test_script import TICK, Script, phase
from tests.unit.judge.test_verdicts import STALL_DEG, rows, summary_of

JUDGE = judge_array()


def summary(seconds=12.0, nod_deg=0.0, period=2.0, **columns):
    """Return the summary of a mush at 60 degrees, nose level, from its first second on recovered.

    ``columns`` are history columns by lower-case name; angles and rates in degrees.
    """
    history = np.zeros((int(seconds / TICK), s.N_HISTORY))
    t = np.arange(len(history)) * TICK
    history[:, s.H_T] = t
    history[:, s.H_STAGE] = np.where(t < 1.0, s.STAGE_ENTRY, s.STAGE_RECOVERY)
    history[:, s.H_UP] = 100.0 - 8.0 * t
    history[:, s.H_CLIMB], history[:, s.H_SPEED] = -8.0, 9.0
    told = {"alpha": 60.0, "path": -60.0, "yaw": 0.0, "elevator": -1.0, **columns}
    for name, value in told.items():
        degrees = name != "elevator"
        history[:, getattr(s, f"H_{name.upper()}")] = np.radians(value) if degrees else value
    phase_angle = 2.0 * np.pi * t / period
    history[:, s.H_THETA] += np.radians(nod_deg) * np.sin(phase_angle)
    history[:, s.H_Q] = np.radians(nod_deg) * 2.0 * np.pi / period * np.cos(phase_angle)
    env = np.zeros(N_ENV)
    env[E_STALL_ALPHA] = env[E_STALL_INVERTED] = np.radians(STALL_DEG)
    out = np.zeros(s.N_SUMMARY)
    summary_of(history, len(history), TICK, env, JUDGE, s.STATUS_TIME, out)
    return out


def test_a_mush_that_the_stick_does_not_end_hangs():
    out = summary()
    assert out[s.R_HUNG_FOR] == pytest.approx(11.0, abs=0.2)
    assert np.degrees(out[s.R_HANG_ALPHA]) == pytest.approx(60.0)
    assert out[s.R_HANG_SINK] == pytest.approx(8.0)
    assert reasons_of(out[None], 1e3, 0.0) == [Reason.DEEP_STALL]


@pytest.mark.parametrize(
    ("columns", "why"),
    [
        ({"yaw": 60.0}, "it spins"),
        ({"alpha": 20.0}, "no steeper than a steep spin"),
        ({"alpha": 140.0}, "it slides down tail first"),
        ({"path": 5.0}, "it climbs: it hangs on its power"),
        ({"elevator": 1.0}, "the stick holds it there"),
        ({"alpha": -60.0}, "the stick holds it there, on its back"),
        ({"seconds": 2.5}, "an ordinary stall is left in less"),
    ],
)
def test_what_is_no_deep_stall(columns, why):
    out = summary(**columns)
    assert out[s.R_HUNG_FOR] == 0.0, why
    assert reasons_of(out[None], 1e3, 0.0) == [Reason.NEVER]


def test_it_may_hang_on_its_back_with_the_stick_aft():
    out = summary(alpha=-60.0, elevator=1.0)
    assert out[s.R_HUNG_FOR] > 10.0
    assert np.degrees(out[s.R_HANG_ALPHA]) == pytest.approx(-60.0)


def test_how_far_and_how_often_it_nods():
    out = summary(nod_deg=10.0, period=1.6)
    # of a sine the standard deviation is its size over the root of two
    assert np.degrees(out[s.R_HANG_SWING]) == pytest.approx(10.0 / np.sqrt(2.0), rel=0.05)
    assert out[s.R_HANG_PERIOD] == pytest.approx(1.6, abs=0.02)
    assert summary()[s.R_HANG_PERIOD] == 0.0


def test_what_the_stick_ends_in_time_is_none():
    # a swing that takes it below the stall for a moment does not end it
    alpha = np.full(1200, 60.0)
    alpha[500:520] = 5.0
    assert summary(alpha=alpha)[s.R_HUNG_FOR] > 10.0
    alpha[500:700] = 5.0
    assert summary(alpha=alpha)[s.R_HUNG_FOR] < 9.5


def hung(**columns):
    """Return two flights, each with 20 s of recovery; 8 m/s of sink where they hang."""
    told = {"R_TIME": [25, 25], "R_T_RECOVERY": [5, 5], "R_HANG_SINK": [8, 8], **columns}
    return rows(**told)


def test_never_back_and_back_too_late_have_names_of_their_own():
    most = hung(R_BACK=[0, 0], R_HUNG_FOR=[11.0, 9.0])
    assert reasons_of(most, 120.0, 40.0) == [Reason.DEEP_STALL, Reason.NEVER]
    # 100 m used of 80 m: without the 24 m that it sank hanging it was enough, without 16 m not
    late = hung(R_DROP=[100, 100], R_HUNG_FOR=[3.0, 2.0])
    assert reasons_of(late, 120.0, 40.0) == [Reason.HUNG_LATE, Reason.BELOW_FLOOR]
    shares = shares_of(np.concatenate([most, late]), 120.0, 40.0)
    assert (shares.never, shares.hung_never, shares.below_floor, shares.hung_late) == (2, 1, 2, 1)
    assert (shares.hung, shares.lost) == (4, 4)
    assert sum(shares.reasons.values()) == shares.lost
    assert set(shares.reasons) <= set(SHORT)


def test_what_sinks_on_without_ever_stalling_has_a_name_of_its_own_and_is_lost():
    # a glide that the recovery does not level out; the second one stalled, the third departed
    told = rows(R_BACK=[0, 0, 0], R_T_STALL=[-1.0, 2.0, -1.0], R_DEPARTED=[0, 0, 1])
    assert reasons_of(told, 120.0, 40.0) == [Reason.SANK, Reason.NEVER, Reason.NEVER]
    shares = shares_of(told, 120.0, 40.0)
    assert (shares.never, shares.sank_never, shares.lost) == (3, 1, 3)
    assert shares.reasons == {Reason.NEVER: 2, Reason.SANK: 1}
    assert SHORT[Reason.SANK] == "sank unstalled"


def test_hanging_for_a_while_and_coming_back_is_counted_and_no_loss():
    shares = shares_of(hung(R_HUNG_FOR=[3.0, 0.0]), 120.0, 40.0)
    assert (shares.hung, shares.lost, shares.reasons) == (1, 0, {})


def test_a_hang_without_numbers_is_none():
    told = hung(R_HUNG_FOR=[5.0, 5.0])
    told[1, s.R_HANG_SINK] = np.nan
    assert list(has_hung(told)) == [True, False]
    (hang,) = typical_hangs(told)
    assert (hang.flights, hang.sink_mps) == (1, 8.0)
    assert typical_hangs(told[1:]) == ()


def test_erect_and_inverted_hangs_are_never_mixed():
    """A median over signed angles of both would be an angle that no flight hung at."""
    degrees = [60.0, 62.0, -34.0, -35.0, -36.0, 61.0]
    told = rows(
        R_HUNG_FOR=[5.0] * 6, R_HANG_ALPHA=np.radians(degrees),
        R_HANG_SINK=[8.0, 8.2, 11.0, 11.2, 11.4, 8.1],
    )  # fmt: skip
    erect, inverted = typical_hangs(told)
    assert (erect.flights, erect.inverted, erect.sink_mps) == (3, False, 8.1)
    assert erect.alpha_deg == pytest.approx(61.0)
    assert (inverted.flights, inverted.inverted, inverted.sink_mps) == (3, True, 11.2)
    assert inverted.alpha_deg == pytest.approx(-35.0)


def test_a_recovery_that_hangs_is_given_up_for_the_way_out():
    script = Script(
        phase(at_most=0.1), phase(stage=s.STAGE_TRIED), phase(stage=s.STAGE_TRIED_PULL_OUT),
        phase(stage=s.STAGE_RECOVERY),
    )  # fmt: skip
    script.until_phase(1, r=1.0, alpha=0.5)
    assert script.memory[s.Q_SPIN] == 1.0
    for _ in range(50):
        script.tick(alpha=1.0, r=-0.3)
    assert script.at == 1
    script.memory[s.Q_HANGS] = 1.0
    script.tick(alpha=1.0, r=-0.3)
    assert script.at == 3
    assert script.memory[s.Q_SPIN] == -1.0  # read again, as the way out begins


def test_rocking_does_work_on_the_swing():
    """The stick goes with the pitch rate: aft while the nose rises, forward while it falls."""
    pilot, memory = np.zeros(N_PILOT), np.zeros(s.N_MEMORY)
    pilot[P_PERCEPTION], pilot[P_STICK_RATE] = 0.2, 3.0
    rock = phase(pilot=s.PILOT_ROCKING, elevator=1.0)
    t = np.arange(0.0, 20.0, TICK)
    rate = 0.5 * np.sin(2.0 * np.pi * t / 2.0)
    stick = np.zeros(len(t))
    for i, q in enumerate(rate):
        move_sticks(pilot, memory, rock, 0.0, q, 9.0, TICK)
        stick[i] = memory[s.Q_ELEVATOR]
    late = t > 4.0
    assert stick[late].max() == 1.0
    assert stick[late].min() == -1.0
    assert np.corrcoef(stick[late], rate[late])[0, 1] > 0.8


def test_a_recovery_has_no_recovery_that_is_tried():
    rock = load_recovery("stick_rocking")
    told = rock.model_dump(by_alias=True, exclude_none=True)
    told["phases"] = [dict(x, recovery_tried=True) for x in told["phases"]]
    with pytest.raises(ValueError, match="does not belong to a recovery"):
        type(rock).model_validate_json(json.dumps(told))


def test_rocking_is_told_as_it_is_flown():
    first = recovery_steps(load_recovery("stick_rocking"))[0]
    assert "stick full aft while the nose rises, full forward while it falls" in first


# ------------------------------------------------------------------------------ words
FLAT = Hang(
    flights=20,
    inverted=False,
    alpha_deg=62.0,
    nose_deg=3.0,
    swing_deg=5.0,
    period_s=1.4,
    wallow_deg=1.0,
    turn_dps=4.0,
    sink_mps=8.2,
    speed_mps=9.1,
    hung_s=14.0,
)


def way(name, out, flights, low, high, middle, most):
    return WayOut(
        name=name,
        title=name.replace("_", " "),
        flights=flights,
        out=out,
        low=low,
        high=high,
        height_m=Heights(middle, most),
    )


def deep_stall(*ways):
    places = (HungIn("chop", "throttle chopped", 128, 20, 15), HungIn("spin", "spin", 128, 0, 0))
    return DeepStall("centre", "centre all sticks", places[:1], (FLAT,), ways)


DEAD = way("stick_forward_alone", 0, 20, 0.0, 0.16, None, None)
ENDS = way("full_power_stick_forward", 18, 20, 0.70, 0.97, 22.0, 35.0)
SOME = way("stick_rocking", 9, 20, 0.26, 0.66, 50.0, 80.0)
FEW = way("aileron_roll_out", 1, 20, 0.01, 0.24, 50.0, 50.0)


@pytest.mark.parametrize(
    ("hung", "lost", "told"),
    [
        (1, 1, "it was lost for that reason"),
        (1, 0, "it was not lost for that reason"),
        (4, 0, "none was lost for that reason"),
        (4, 1, "1 of these 4 was lost for that reason"),
        (4, 4, "all were lost for that reason"),
    ],
)
def test_one_flight_that_hung_is_not_all_of_them(hung, lost, told):
    places = (HungIn("chop", "throttle chopped", 128, hung, lost),)
    assert lost_text(replace(deep_stall(DEAD), places=places)) == told


@pytest.mark.parametrize(
    ("ways", "line"),
    [
        (
            (DEAD, SOME, ENDS),
            "full power stick forward mostly ends it (18 of 20, 35 m).",
        ),
        ((DEAD, SOME), "no sure way out (best: stick rocking 9 of 20, 80 m)."),
        ((DEAD, FEW), "nothing tried ends it (best: aileron roll out 1 of 20, 50 m): do not "
         "fly it."),
        ((DEAD,), "nothing tried ended it (0 of 20): do not fly it."),
    ],
)  # fmt: skip
def test_the_card_says_what_ends_it(ways, line):
    assert card_line(deep_stall(*ways)) == f"DEEP STALL, 20 of 128 hung: {line}"


def test_what_the_pilot_sees_follows_the_numbers():
    found = deep_stall(DEAD)
    told = seen_text(found)
    assert told.startswith("the nose stays near the horizon, it sinks at 8 m/s at 62 degrees")
    assert "nods by about 7 degrees either way every 1.4 s" in told
    assert "it hardly turns; full forward stick does nothing (0 of 20)" in told
    assert "wings rock" not in told
    other = replace(FLAT, nose_deg=-31.0, swing_deg=1.0, wallow_deg=9.0, turn_dps=20.0)
    told = seen_text(replace(found, hangs=(other,)))
    assert "31 degrees below the horizon" in told
    assert "wings rock by about 13 degrees" in told
    assert "once in 18 s" in told
    assert "nods" not in told


def test_the_pilot_is_told_which_way_up_it_hangs_and_where_the_stick_goes_then():
    on_back = replace(FLAT, flights=3, inverted=True, alpha_deg=-35.0, sink_mps=11.2)
    both = replace(deep_stall(SOME), hangs=(replace(FLAT, flights=5), on_back))
    told = seen_text(both)
    assert told.startswith(
        "erect, 5 of 8: the nose stays near the horizon, it sinks at 8 m/s at 62"
    )
    assert (
        "; on its back, 3 of 8: the nose stays near the horizon, it sinks at 11 m/s at 35" in told
    )
    assert card_line(both).endswith("Hung on its back: stick AFT where it says forward.")
    alone = replace(both, hangs=(on_back,), ways=(DEAD,))
    assert seen_text(alone).startswith("on its back, 3 of 3: the nose")
    assert "full forward stick (AFT if on its back) does nothing" in seen_text(alone)
    page = deep_stall_row(both).content()["seen"]
    assert [(x["flights"], x["inverted"]) for x in page] == [(5, False), (3, True)]


def hanging_result():
    """Return the sample study with a set-up that hangs, and is lost for that above all."""
    study = sample_result()
    aft = study.setups[2]
    shares = replace(aft.cases[2].shares, hung=128, hung_never=aft.cases[2].shares.never)
    cases = tuple(
        replace(c, shares=shares) if c.manoeuvre == "spin" and c.recovery == "centre" else c
        for c in aft.cases
    )
    setups = (*study.setups[:2], replace(aft, cases=cases, deep_stall=deep_stall(DEAD, ENDS)))
    return replace(study, setups=setups)


@pytest.mark.usefixtures("undrawn")
def test_console_report_and_answer_name_it():
    study = hanging_result()
    assert "DEEP STALL is the commonest reason why flights of aft are lost." in headline(study)
    assert "It can hang in a deep stall (20 of 128 after chop)" in setup_sentence(
        study.setups[2], study
    )
    text = render(study_tables(study))
    assert "128 hung in a deep stall" in " ".join(text.split())
    assert "+ 18 of 20" in text
    assert "x 0 of 20" in text
    # in short that of today's, or of the first that hung; the others by name
    short = " ".join(render(study_tables(study, whole=False)).split())
    assert short.count("What the pilot sees") == 1
    assert max(len(line) for line in text.splitlines()) <= 100
    page = report_html(study, load_aeroplane("display_jet"))
    assert "<h2>Deep stall</h2>" in page
    assert "aft: full power stick forward ends it more often than not (18 of 20, 35 m)" in page
    assert "15 of these 20 were lost for that reason" in page
    assert "What the pilot sees: the nose" in page
    assert "ends it more often than not" in verdict_text(
        study.setups[2], study.setups[2].deep_stall
    )
    assert deep_stall_row(study.setups[0].deep_stall) is None
    told = deep_stall_row(study.setups[2].deep_stall).content()
    assert told["ways_out"][1]["out"] == 18
    assert told["ways_out"][0]["height_m"] == {"median": None, "p95": None}


@pytest.mark.usefixtures("undrawn")
def test_where_none_hung_nothing_is_said():
    study = sample_result()
    assert "deep stall" not in headline(study).lower()
    assert "<h2>Deep stall</h2>" not in report_html(study, load_aeroplane("display_jet"))


def test_a_phase_tried_stays_tried(tmp_path):
    path = tmp_path / "bad.toml"
    path.write_text(
        'schema = "aftlimit.manoeuvre/1"\nkind = "manoeuvre"\nname = "bad"\ntitle = "bad"\n'
        "start = { speed_over_stall = 1.4 }\n"
        '[[phases]]\nname = "one"\nat_most_s = 1.0\nrecovery_tried = true\n'
        '[[phases]]\nname = "two"\nat_most_s = 1.0\n'
    )
    with pytest.raises(FileFault, match="recovery_tried must hold for all phases after"):
        load_manoeuvre(path)
