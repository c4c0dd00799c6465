"""A recording tells the flight that was flown, briefly."""

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from sim.core import script_layout as s
from sim.describe import load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.judge import verdict_of
from sim.record.files import write_record
from sim.show.replay.recording import MOST_ROWS, quaternions, recording
from tests.samples.records import valid

MOST_BYTES = 60_000


@pytest.fixture(scope="module")
def spun(display_jet):
    return fly_one(display_jet, load_manoeuvre("spin_entry"), load_recovery("rudder_forward"))


@pytest.fixture(scope="module")
def told(spun):
    return recording(spun, "a spin", 200.0, 40.0, None).content()


def column(told, *names):
    return np.column_stack([told["columns"][name] for name in names])


def test_positions_and_attitude_agree_with_the_air(told):
    # still air: the velocity rebuilt from speed, angles and attitude is the change of place
    t = column(told, "t_s")[:, 0]
    alpha, beta = np.radians(column(told, "alpha_deg", "beta_deg")).T
    speed = column(told, "speed_mps")[:, 0]
    body = speed[:, None] * np.column_stack(
        [np.cos(alpha) * np.cos(beta), np.sin(beta), np.sin(alpha) * np.cos(beta)]
    )
    ned = Rotation.from_quat(column(told, "q1", "q2", "q3", "q0")).apply(body)
    place = column(told, "north_m", "east_m", "up_m") * np.array([1.0, 1.0, -1.0])
    moved = np.gradient(place, t, axis=0)
    # central differences over 0.1 s of a turning path: a few per cent
    assert np.abs(moved - ned)[1:-1].max() < 0.08 * speed.max()
    assert np.abs(-ned[:, 2] - column(told, "climb_mps")[:, 0]).max() < 0.3


def test_quaternions_keep_their_sign(told):
    q = column(told, "q0", "q1", "q2", "q3")
    assert np.all(np.einsum("ij,ij->i", q[1:], q[:-1]) > 0.0)
    assert np.abs(np.linalg.norm(q, axis=1) - 1.0).max() < 2e-3
    # turning on through a whole circle of yaw, as Euler angles jump
    yaw = np.arctan2(*np.array([[np.sin(a), np.cos(a)] for a in np.arange(0.0, 13.0, 0.2)]).T)
    turned = quaternions(np.column_stack([0 * yaw, 0 * yaw, yaw]))
    assert np.all(np.einsum("ij,ij->i", turned[1:], turned[:-1]) > 0.9)


def test_it_tells_what_the_judge_told(spun, told):
    assert told["verdict"] == verdict_of(spun.summary, 200.0, 40.0).value
    assert told["height_lost_m"] == pytest.approx(spun.summary[s.R_HEIGHT_LOST], abs=0.06)
    names = [e["name"] for e in told["events"]]
    assert names.index("departure") < names.index("first recovery input") < names.index("unstalled")
    assert told["phases"][0]["stage"] == "entry"
    assert {p["stage"] for p in told["phases"]} == {"entry", "recovery", "pull-out"}
    sizes = {len(v) for k, v in told["columns"].items() if k != "surfaces"}
    sizes |= {len(v) for v in told["columns"]["surfaces"].values()}
    assert sizes == {len(told["columns"]["t_s"])}
    assert told["columns"]["up_m"][0] == 200


def test_surfaces_are_named_as_the_hinges_are(told):
    hinges = {p["hinge"]["channel"] for p in told["mesh"]["parts"] if p["hinge"]}
    assert hinges == set(told["columns"]["surfaces"])


def test_it_ends_at_the_ground(display_jet):
    flight = fly_one(display_jet, load_manoeuvre("spin_entry"), load_recovery("centre_sticks"))
    low = recording(flight, "too low", 60.0, 40.0, None).content()
    assert low["events"][-1]["name"] == "ground"
    assert -2.0 < low["columns"]["up_m"][-1] <= 0.0
    assert min(low["columns"]["up_m"][:-1]) > 0.0
    assert max(e["t_s"] for e in low["events"]) <= low["columns"]["t_s"][-1] + 0.01


def test_a_long_flight_stays_small(jet_balanced_at, tmp_path):
    flight = fly_one(
        jet_balanced_at(245.0),
        load_manoeuvre("throttle_chop_stall"),
        load_recovery("centre_sticks"),
    )
    assert flight.history[-1, s.H_T] > 20.0
    record = recording(flight, "never", 1000.0, 40.0, 3, seed=7)
    told = record.content()
    assert len(told["columns"]["t_s"]) <= MOST_ROWS + 2
    assert told["rate_hz"] < 20.0
    path = write_record(record, tmp_path / "never.json")
    assert path.stat().st_size < MOST_BYTES
    assert valid(path) == told
    assert (told["height_lost_m"], told["verdict"], told["draw"], told["seed"]) == (
        None, "lost", 3, 7,
    )  # fmt: skip
