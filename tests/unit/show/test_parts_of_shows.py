"""Small parts of what is shown: words, places, sizes and lines with a known answer."""

import numpy as np
import pytest
from matplotlib.figure import Figure

from sim.aero.geometry.panels import panels_of
from sim.describe import load_aeroplane
from sim.describe.masses import LooseWeight
from sim.show.console.results.deep_stall import deep_stall_tables
from sim.show.console.results.recovery import groups, recovery_tables, stacked
from sim.show.desktop.showing import size_of
from sim.show.drawing.spread_labels import spread_labels
from sim.show.figures.drives import thrust_line
from sim.show.report.answer import answer
from sim.show.report.deep_stall import deep_stalls
from sim.show.report.heights import limits_words
from sim.show.report.method import cautions, method_limits
from sim.show.report.numbers import trims
from sim.show.report.shares import came_back
from sim.show.shapes.bodies import body_solid
from sim.show.shapes.panels import half_thickness
from sim.show.words.bench.changes import added_words, differing, weights_of
from sim.show.words.bench.placing import added_text, loose_text, place_text, tray_text
from tests.samples.results import result


@pytest.fixture(scope="module")
def jet():
    return load_aeroplane("display_jet")


@pytest.fixture(scope="module")
def told():
    return result()


def test_places_are_told_from_the_datum(jet):
    assert place_text(12.3) == "12 mm aft of the datum"
    assert place_text(-12.3) == "12 mm ahead of the datum"
    assert place_text(-0.3) == "at the datum"
    pack = jet.packs["6s_5000"]
    front = jet.tray.front_aft_mm + 10.0
    assert "10 mm back from as far forward as it goes" in tray_text(jet, "6s_5000", front)
    assert place_text(front - pack.length_mm / 2.0) in tray_text(jet, "6s_5000", front)
    spot = jet.weight_places[0]
    assert added_text([(spot.name, 30.0)], jet).startswith(f"30 g at the {spot.name}, ")
    weight = LooseWeight(name="smoke", mass_g=40.0, aft_mm=0.0)
    assert loose_text(weight) == "smoke 40 g, at the datum"


def test_weights_for_balance_are_not_taken_for_all(told):
    one = told.setups[0]
    assert added_words(one) == "54 g at the tail cone"
    assert weights_of(one) == "canister 40 g at 660 mm; for balance 54 g at the tail cone"
    same, apart = differing(told.setups)
    assert apart == {}
    assert "gyro off" in same


def test_console_names_are_stacked_and_grouped(told):
    assert stacked("rudder_forward_held") == "rudder\nforward held"
    names = [f"n{i}" for i in range(20)]
    assert [n for group in groups(names) for n in group] == names
    assert recovery_tables(told)
    assert not deep_stall_tables(told)


def test_a_report_tells_cautions_shares_and_no_deep_stall_where_none_hung(told, jet):
    assert not deep_stalls(told)
    assert "no proof" in str(cautions())
    assert "Limits of the method" in str(method_limits())
    for setup in told.setups:
        assert setup.name in str(came_back(told))
        assert setup.name in str(trims(told))
    assert "at least 95 % of flights back" in str(answer(told, jet))
    lost = next(c for c in told.setups[2].cases if c.manoeuvre == "spin")
    assert limits_words(lost) == "no end known"


def test_a_thrust_line_goes_straight_ahead_without_tilt():
    line = thrust_line((100.0, 0.0, 5.0), 0.0, 0.0, 300.0)
    np.testing.assert_allclose(line, [[100.0, 0.0, 5.0], [-200.0, 0.0, 5.0]], atol=1e-12)
    assert thrust_line((0.0, 0.0, 0.0), 3.0, 2.0, 1.0)[1, 1:].tolist() == pytest.approx(
        [np.sin(np.radians(2.0)), -np.sin(np.radians(3.0))]
    )


def test_a_movie_has_whole_steps():
    for width in (800, 801, 1283):
        assert all(side % 16 == 0 for side in size_of(width))


def test_labels_that_crowd_are_set_apart():
    axes = Figure(figsize=(4.0, 4.0)).add_subplot()
    axes.set(xlim=(0.0, 100.0), ylim=(0.0, 100.0))
    spread_labels(axes, [(50.0, 50.0), (50.5, 50.0)], ["1", "2"])
    places = [tuple(text.get_position()) for text in axes.texts]
    assert len(set(places)) == 2


def test_shapes_have_the_thickness_and_size_of_the_file(jet):
    panel = panels_of(jet.surfaces[0])[0]
    thickest = 2.0 * half_thickness(panel, np.linspace(0.0, 1.0, 301)).max()
    assert thickest == pytest.approx(0.01 * jet.surfaces[0].section.thickness_pct, rel=1e-3)
    points = np.asarray(body_solid(jet.bodies[0])[0])
    assert points.shape[1] == 3
    ends = [1e-3 * station.aft_mm for station in jet.bodies[0].stations]
    along = np.ptp(points, axis=0).max()
    assert along == pytest.approx(max(ends) - min(ends), rel=0.05)
