"""The path of a flight in space: where it lies, which way the wing points, what is drawn."""

import matplotlib as mpl
import numpy as np
import pytest

import sim
import sim.show
from sim.core import script_layout as s
from sim.describe import load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.show.drawing.canvas import new_figure
from sim.show.figures.flight_path import (
    draw_flight_path,
    path_axes,
    path_figure,
    positions,
    right_wing,
)


@pytest.fixture(scope="module")
def flight(display_jet):
    return fly_one(display_jet, load_manoeuvre("spin_entry"), load_recovery("centre_sticks"))


def test_path_starts_at_its_entry_height(flight):
    path = positions(flight, 200.0)
    assert path[0, 2] == pytest.approx(200.0)
    fallen = path[0, 2] - path[:, 2].min()
    assert fallen == pytest.approx(flight.summary[s.R_DROP], abs=0.5)


@pytest.mark.parametrize(
    ("roll", "pitch", "yaw", "wing"),
    [
        (0.0, 0.0, 0.0, (1.0, 0.0, 0.0)),  # flying north the right wing points east
        (0.0, 0.0, 90.0, (0.0, -1.0, 0.0)),  # flying east it points south
        (90.0, 0.0, 0.0, (0.0, 0.0, -1.0)),  # rolled right by a quarter it points down
        (0.0, 80.0, 0.0, (1.0, 0.0, 0.0)),  # pitching leaves it
    ],
)
def test_right_wing(roll, pitch, yaw, wing):
    row = np.zeros((1, s.N_HISTORY))
    row[0, [s.H_PHI, s.H_THETA, s.H_PSI]] = np.radians([roll, pitch, yaw])
    np.testing.assert_allclose(right_wing(row)[0], wing, atol=1e-12)


def test_a_metre_is_as_long_in_every_direction(flight):
    figure = new_figure(6.0, 5.0)
    axes = path_axes(figure)
    draw_flight_path(axes, flight, 200.0, 40.0)
    extents = [np.ptp(axes.get_xlim()), np.ptp(axes.get_ylim()), np.ptp(axes.get_zlim())]
    aspect = axes._box_aspect
    np.testing.assert_allclose(aspect / aspect[0], np.array(extents) / extents[0])
    assert axes.get_zlim()[0] == pytest.approx(0.0)
    words = [t.get_text() for t in axes.texts]
    assert " floor 40 m" in words
    told = [t.get_text() for t in axes.get_legend().get_texts()]
    assert any(text.startswith("departure") for text in told)


def test_figure_has_its_title_and_draws(flight):
    figure = path_figure(flight, 120.0, None, "club jet")
    assert figure.get_suptitle() == "club jet"
    figure.canvas.draw()


def test_every_public_figure_is_documented_and_there():
    names = [name for name in dir(sim) if name.startswith("draw_")]
    assert len(names) == 12
    for name in names:
        assert callable(getattr(sim, name))
        assert f"``sim.{name}``" in sim.show.__doc__


def test_style_of_the_user_is_left_alone(flight):
    before = dict(mpl.rcParams)
    draw_flight_path(path_axes(new_figure(5.0, 4.0)), flight)
    assert dict(mpl.rcParams) == before
