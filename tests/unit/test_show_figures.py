"""Figures: what is drawn and labelled, where, and how it is saved."""

import numpy as np
import pytest
from matplotlib.patches import Rectangle
from show_sample import result

from sim.aero.panels import panels_of
from sim.describe import load_aeroplane, load_manoeuvre
from sim.fly.flying import fly
from sim.show.canvas import BLUE, WINE, new_figure, one_axes, page_svg, save
from sim.show.coefficients import curves
from sim.show.figures import height_strips, limit_search, share_matrix, spin_overview
from sim.show.history import pro_spin_span, time_history
from sim.show.outline import panel_shape, pivot_line, section
from sim.show.side_view import balance_scale, side_view
from sim.show.sketch import radius_of, sketch

RESULT = result()
JET = load_aeroplane("display_jet")


def texts(axes):
    return [t.get_text() for t in axes.texts]


def test_matrix_has_a_symbol_and_a_count_in_each_cell():
    _, axes = one_axes(8.0, 4.0)
    share_matrix(axes, RESULT.setups, 95.0)
    found = texts(axes)
    assert len(found) == len(RESULT.setups) * 2
    assert all(text[0] in "●◐✕" for text in found)
    assert found[0].startswith("● 128/128")
    cells = [p for p in axes.patches if isinstance(p, Rectangle)]
    assert cells[0].get_facecolor()[:3] == pytest.approx(_rgb(BLUE))
    assert cells[-1].get_facecolor()[:3] == pytest.approx(_rgb(WINE))


def _rgb(colour):
    return tuple(int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5))


def test_heights_show_those_that_never_came_back():
    _, axes = one_axes(8.0, 4.0)
    height_strips(axes, RESULT.setups, "spin", 120.0, 40.0)
    assert texts(axes) == ["12 of 128", "128 of 128"]
    assert axes.get_ylabel() == "entry height needed, m"
    assert axes.get_xticklabels()[0].get_text().startswith("forward")
    assert axes.get_ylim()[1] > 120.0


def test_search_draws_wilson_limits_and_the_limit_found():
    _, axes = one_axes(8.0, 4.0)
    limit_search(axes, RESULT.aft_limits, 95.0)
    assert "6s_4000: 200 mm" in texts(axes)
    assert "6s_5000: beyond 204 mm" in texts(axes)
    assert not any("6s_3300" in text for text in texts(axes))
    # another recovery's point at 230 mm is not drawn
    assert len(axes.containers[0].lines[0].get_xdata()) == 3
    bars = axes.containers[0].lines[2][0].get_segments()
    step = RESULT.aft_limits[0].steps[1]
    np.testing.assert_allclose(bars[1], [[200.0, step.low], [200.0, step.high]])


def test_spins_and_side_view_are_labelled():
    for draw in (
        lambda axes: spin_overview(axes, RESULT.setups),
        lambda axes: side_view(axes, JET, RESULT.setups, RESULT.aft_limits),
        lambda axes: balance_scale(axes, JET, RESULT.setups, RESULT.aft_limits),
    ):
        _, axes = one_axes(8.0, 4.0)
        draw(axes)
        assert axes.get_xlabel()
        assert axes.has_data()


def test_band_ends_at_the_aft_limit():
    _, axes = one_axes(8.0, 4.0)
    balance_scale(axes, JET, (), RESULT.aft_limits)
    ends = [bar.patches[0].get_x() + bar.patches[0].get_width() for bar in axes.containers]
    assert ends == pytest.approx([200.0, 204.0, 204.0])  # limit, its first failure, the open one


def test_outline_of_a_panel():
    wing = next(x for x in JET.surfaces if x.name == "wing")
    shape = panel_shape(panels_of(wing)[0])
    tip = wing.panel_span_mm * np.tan(np.radians(wing.sweep_deg))
    right = wing.panel_span_mm * np.cos(np.radians(wing.dihedral_deg))
    np.testing.assert_allclose(shape.outline[0], [0.0, 0.0, 20.0], atol=1e-9)
    np.testing.assert_allclose(shape.outline[1, :2], [tip, right])
    np.testing.assert_allclose(shape.outline[2, 0] - shape.outline[1, 0], wing.tip_chord_mm)
    assert len(shape.strips) == wing.strips - 1
    # the aileron's hinge at 75 % chord, from 55 to 95 % of the span
    chord = wing.root_chord_mm + 0.55 * (wing.tip_chord_mm - wing.root_chord_mm)
    assert shape.hinges[0][0, 0] == pytest.approx(0.55 * tip + 0.75 * chord)


def test_pivot_of_a_plain_rectangle_lies_at_its_share_of_chord():
    tail = next(x for x in JET.surfaces if x.name == "tail")
    plain = tail.model_copy(update={"sweep_deg": 0.0, "tip_chord_mm": tail.root_chord_mm})
    line = pivot_line(panels_of(plain)[0], 24.0)
    expected = tail.root_aft_mm + 0.24 * tail.root_chord_mm
    np.testing.assert_allclose(line[:, 0], expected)


def test_sections():
    box, round_one = section(100.0, 60.0, 0.0), section(100.0, 100.0, 100.0)
    assert set(np.abs(box[:, 0])) == {50.0}
    np.testing.assert_allclose(np.hypot(*round_one.T), 50.0)


def test_discs_are_in_proportion_to_mass():
    assert radius_of(400.0) == pytest.approx(2.0 * radius_of(100.0))


def test_sketch_lists_parts_and_points(display_jet):
    views, page = sketch(display_jet, 28.7)
    words = "\n".join(t.get_text() for axes in views.axes for t in axes.texts)
    for row in display_jet.weighed.rows:
        assert row.name in words
    assert "balance point 195 mm" in words
    assert "28.7 % MAC" in words
    assert views.axes[0].get_title(loc="left") == "from above"
    assert len(page.axes) == 6
    assert all(axes.get_xlabel() for axes in page.axes)


def test_full_aft_stick_lifts_the_nose(display_jet):
    alphas = np.array([0.0, 5.0])
    aft, forward = curves(display_jet, 1.0, alphas), curves(display_jet, -1.0, alphas)
    assert (aft.pitch > forward.pitch).all()
    assert (aft.drag > 0.0).all()
    assert aft.lift[1] > aft.lift[0]


def test_time_history_has_its_panels_and_events(display_jet):
    flight = fly(display_jet, load_manoeuvre("spin_entry"), load_manoeuvre("rudder_forward"))
    figure = new_figure(8.0, 7.0)
    stack = time_history(figure, flight)
    assert [axes.get_ylabel() for axes in stack] == [
        "angle, degrees", "rate, degrees/s", "height lost, m", "speed, m/s", "stick, 1 = full",
    ]  # fmt: skip
    assert "recovery" in texts(stack[0])
    start, end = pro_spin_span(flight.history)
    assert 0.0 <= start < end


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_saved_whole_or_not_at_all(tmp_path, ending):
    figure, _ = one_axes(3.0, 2.0)
    path = save(figure, tmp_path / "sub" / f"figure.{ending}")
    assert path.stat().st_size > 500
    assert [p.name for p in path.parent.iterdir()] == [f"figure.{ending}"]


def test_other_endings_are_refused(tmp_path):
    figure, _ = one_axes(3.0, 2.0)
    with pytest.raises(ValueError, match=r"figure\.bmp: a picture ends in \.png, \.svg or \.pdf"):
        save(figure, tmp_path / "figure.bmp")
    assert not list(tmp_path.iterdir())


def test_svg_for_a_page_is_the_same_every_time_and_stands_alone():
    def drawing(name):
        figure, axes = one_axes(4.0, 2.5)
        share_matrix(axes, RESULT.setups, 95.0)
        return page_svg(figure, name)

    first = drawing("a")
    assert first == drawing("a")
    assert "http" not in first
    assert "currentColor" in first
    assert 'id="a-' in first
    assert 'id="b-' in drawing("b")
