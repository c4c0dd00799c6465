"""Figures: what is drawn and labelled, where, and how it is saved."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from matplotlib.patches import Rectangle
from matplotlib.text import Text

from sim.aero.geometry.panels import panels_of
from sim.describe import Part, load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.judge import Event
from sim.show.drawing.canvas import BLUE, WINE, new_figure, one_axes, page_svg, rows_of_axes, save
from sim.show.figures import gain_risk
from sim.show.figures.aeroplane import BOOM_POINTS
from sim.show.figures.balance_scale import draw_balance_scale, scale_in
from sim.show.figures.coefficients import curves
from sim.show.figures.finger_view import draw_finger_view, has_wing_there
from sim.show.figures.gain_risk import draw_gain_risk, draw_gains_and_risks
from sim.show.figures.share_by_balance import _back, _stretched, draw_share_by_balance
from sim.show.figures.side_view import draw_side_view
from sim.show.figures.sketch import radius_of, sketch
from sim.show.figures.study_figures import draw_height_strips, draw_share_matrix, draw_spin_overview
from sim.show.figures.time_history import draw_time_history, label_rows, pro_spin_span
from sim.show.shapes.outline import panel_shape, pivot_line, section
from sim.study.results.agility import Spread
from tests.samples.agility import shown
from tests.samples.results import limit, result, setup

RESULT = result()
OPEN_END = "95 % limits from 198, the upper one not found"
JET = load_aeroplane("display_jet")


def texts(axes):
    return [t.get_text() for t in axes.texts]


def test_matrix_has_a_symbol_and_a_count_in_each_cell():
    _, axes = one_axes(8.0, 4.0)
    draw_share_matrix(axes, RESULT.setups, 95.0)
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
    draw_height_strips(axes, RESULT.setups, "spin", 120.0, 40.0)
    assert texts(axes) == ["12 of 128", "128 of 128"]
    assert axes.get_ylabel() == "entry height needed, m"
    assert axes.get_xticklabels()[0].get_text().startswith("forward")
    assert axes.get_ylim()[1] > 120.0


def test_places_of_no_known_share_are_strokes_on_the_edge():
    _, axes = one_axes(8.0, 4.0)
    found = RESULT.aft_limits[0]
    alone = tuple(replace(x, complete=False, not_flown=("chop",)) for x in found.steps)
    nowhere = replace(found, aft_mm=None, low_mm=None, high_mm=None, steps=alone)
    draw_share_by_balance(axes, "6s_4000", [], nowhere, 95.0)
    assert not [c for c in axes.collections if c.get_label() == "search, with 95 % limits"]
    own = [x for x in alone if x.recovery == found.recovery]
    (strokes,) = [line for line in axes.lines if line.get_marker() == "|"]
    assert sorted(strokes.get_xdata()) == sorted(x.balance_aft_mm for x in own)
    assert not any(strokes.get_ydata())
    assert not [x for x in axes.texts if getattr(x, "arrow_patch", None) is not None]


def test_search_draws_wilson_limits_and_the_limit_found():
    _, axes = one_axes(8.0, 4.0)
    first = RESULT.aft_limits[0]
    draw_share_by_balance(axes, "6s_4000", RESULT.setups, first, 95.0)
    assert axes.get_title(loc="left") == "pack 6s_4000: aft limit 200 mm, 95 % limits 194 to 204"
    (band,) = [c for c in axes.collections if c.get_label() == "search, with 95 % limits"]
    corners = band.get_paths()[0].vertices
    step = first.steps[1]
    at = np.isclose(corners[:, 0], step.balance_aft_mm)
    assert sorted({*corners[at, 1]}) == pytest.approx([step.low, step.high])
    # another recovery's point at 230 mm is not drawn, and first looks are not joined
    assert 230.0 not in corners[:, 0]
    assert 170.0 not in corners[:, 0]
    assert [line.get_xdata()[0] for line in axes.lines if line.get_marker() == "+"] == [170.0]
    assert [bar.lines[0].get_xdata()[0] for bar in axes.containers] == [165.0, 195.0, 225.0]


@pytest.mark.parametrize(
    ("number", "title"),
    [
        (1, "pack 6s_3300: no aft limit found"),
        (2, f"pack 6s_5000: aft limit beyond 204 mm, {OPEN_END}"),
    ],
)
def test_search_without_an_end(number, title):
    _, axes = one_axes(8.0, 4.0)
    found = RESULT.aft_limits[number]
    draw_share_by_balance(axes, found.pack, RESULT.setups, found, 95.0)
    assert axes.get_title(loc="left").replace("\n", " ") == title


def test_share_scale_is_its_own_inverse_and_opens_towards_all():
    shares = np.array([0.0, 0.5, 0.95, 1.0])
    np.testing.assert_allclose(_back(_stretched(shares)), shares, atol=1e-12)
    steps = np.diff(_stretched(shares))
    assert steps[2] / 0.05 > steps[1] / 0.45 > steps[0] / 0.5


@pytest.mark.parametrize("risk", ["lost", "height"])
def test_gain_against_risk_marks_every_set_up_that_flies_level(risk):
    _, axes = one_axes(5.0, 4.0)
    draw_gain_risk(axes, RESULT.setups, "pitch_response", risk)
    # the last set-up of the sample has no level flight
    assert [text for text in texts(axes) if text.isdigit()] == ["165", "195"]
    assert axes.get_xlabel() == "pitch-up, full aft stick, °/s², nominal"
    assert axes.get_legend() is not None


def test_labels_of_gains_and_risks_cover_no_other():
    close = [replace(setup(f"s{i}", 165.0 + i, 6), agility=shown(60.0 + 0.2 * i)) for i in range(8)]
    figure = draw_gains_and_risks(close, ["pull_through", "slow_pass"], 95.0)
    renderer = figure.canvas.get_renderer()
    for axes in figure.axes:
        labels = [t for t in axes.texts if t.get_text().isdigit()]
        for label in labels:
            label.update_positions(renderer)
        boxes = [Text.get_window_extent(label, renderer) for label in labels]
        assert len(boxes) == 8
        for i, box in enumerate(boxes):
            assert not any(box.overlaps(other) for other in boxes[i + 1 :])


def test_fails_here_is_not_covered_by_a_set_up_beside_it():
    _, axes = one_axes(8.0, 3.0)
    none = limit("6s_4000", None)
    near = replace(setup("as_flown", 171.0, 60), pack="6s_4000")
    far = setup("far", 230.0, 60)
    draw_balance_scale(axes, JET, (near, far), (replace(none, setups=("as_flown", "far")),))
    axes.figure.canvas.draw()
    label = next(t for t in axes.texts if t.get_text() == "not shown here")
    box = label.get_window_extent(axes.figure.canvas.get_renderer())
    x, y = axes.transData.transform((171.0, 0.0))
    half = 0.5 * 9.0 / 72.0 * axes.figure.dpi
    assert not (box.x0 < x + half and x - half < box.x1 and box.y0 < y + half and y - half < box.y1)


def _boxes(axes):
    renderer = axes.figure.canvas.get_renderer()
    return [t.get_window_extent(renderer) for t in axes.texts if t.get_text()]


def test_labels_of_the_side_view_do_not_cover_each_other():
    figure = new_figure(5.6, 3.2)
    (axes,) = rows_of_axes(figure, (1.0,))
    draw_side_view(axes, JET, RESULT.setups, RESULT.aft_limits, RESULT.setups[1])
    figure.canvas.draw()
    boxes = _boxes(axes)
    assert len(boxes) == 4
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])
    told = texts(axes)
    assert "balance point 195 mm" in told
    assert "requirement met, 170 to 200 mm" in told
    assert "pack 6s_4000 at -127 mm" in told


def test_numbers_of_the_sketch_do_not_cover_each_other(display_jet):
    views, _ = sketch(display_jet, 28.7)
    views.canvas.draw()
    renderer = views.canvas.get_renderer()
    for axes in (views.axes[0], views.axes[2]):
        boxes = [
            t.get_window_extent(renderer) for t in axes.texts if t.get_text().strip().isdigit()
        ]
        # the extent of an annotation holds its line; the text alone is what must be clear
        assert len(boxes) > 8
    for axes in (views.axes[0], views.axes[2]):
        alone = [Text.get_window_extent(t, renderer) for t in axes.texts]
        assert not any(a.overlaps(b) for i, a in enumerate(alone) for b in alone[:i])


def test_spins_and_side_view_are_labelled():
    for draw in (
        lambda axes: draw_spin_overview(axes, RESULT.setups),
        lambda axes: draw_side_view(axes, JET, RESULT.setups, RESULT.aft_limits),
        lambda axes: draw_balance_scale(axes, JET, RESULT.setups, RESULT.aft_limits),
    ):
        _, axes = one_axes(8.0, 4.0)
        draw(axes)
        assert axes.get_xlabel()
        assert axes.has_data()


def test_band_ends_at_the_aft_limit():
    _, axes = one_axes(8.0, 4.0)
    draw_balance_scale(axes, JET, (), RESULT.aft_limits)
    ends = [bar.patches[0].get_x() + bar.patches[0].get_width() for bar in axes.containers]
    # limit, its first failure, the open one and its part behind the neutral point, 202 mm
    assert ends == pytest.approx([200.0, 204.0, 204.0, 204.0])
    assert axes.containers[-1].patches[0].get_x() == 202.0
    assert any("BEHIND the neutral point" in text for text in texts(axes))


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
    assert "balance point 178 mm" in words
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
    flight = fly_one(display_jet, load_manoeuvre("spin_entry"), load_recovery("rudder_forward"))
    figure = new_figure(8.0, 7.0)
    stack = draw_time_history(figure, flight)
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
        draw_share_matrix(axes, RESULT.setups, 95.0)
        return page_svg(figure, name)

    first = drawing("a")
    assert first == drawing("a")
    assert "http" not in first
    assert "currentColor" in first
    assert 'id="a-' in first
    assert 'id="b-' in drawing("b")


@pytest.mark.parametrize("who", ["", " as in season_now and light_pack_on_the_mark_of_the_big_one"])
def test_title_of_a_panel_ends_within_the_picture(who):
    figure = new_figure(6.2, 3.0)  # as the report draws it
    (axes,) = rows_of_axes(figure, [1.0])
    draw_share_by_balance(axes, "6s_4000", RESULT.setups, RESULT.aft_limits[0], 95.0, who)
    figure.canvas.draw()
    (title,) = [t for t in axes.get_children() if isinstance(t, Text) and "pack" in t.get_text()]
    assert title.get_window_extent().x1 <= figure.bbox.x1


def test_names_of_rows_keep_apart():
    limits = [
        replace(x, pack="6s_4000", key=f"{i}", setups=(f"moved_back_with_full_throws_{i}", "club"))
        for i, x in enumerate(RESULT.aft_limits)
    ]
    rows = scale_in(RESULT.setups, limits)  # as the report draws it
    figure = new_figure(5.6, 3.2 + rows)
    _, axes = rows_of_axes(figure, (3.2, rows))
    draw_balance_scale(axes, JET, RESULT.setups, limits, 95.0)
    figure.canvas.draw()
    boxes = [label.get_window_extent() for label in axes.get_yticklabels()]
    assert len(boxes) >= 3
    assert not any(a.overlaps(b) for a, b in pairwise(boxes))


def test_a_tail_that_no_body_reaches_hangs_on_its_booms():
    def lines(parts):
        _, axes = one_axes(8.0, 4.0)
        draw_side_view(axes, JET.model_copy(update={"parts": parts}), ())
        return [line.get_xydata().tolist() for line in axes.lines if line.get_lw() == BOOM_POINTS]

    rear = max(s.aft_mm for body in JET.bodies for s in body.stations)
    boom = Part(name="boom", mass_g=40.0, shape="bar", aft_mm=rear, right_mm=160.0, up_mm=35.0,
                length_mm=600.0, mirrored=True)  # fmt: skip
    ends = [[rear - 300.0, 35.0], [rear + 300.0, 35.0]]
    assert lines((boom,)) == [ends, ends]
    # one that stays inside a body is not seen from outside, nor is a motor that ends flush
    inside = boom.model_copy(update={"aft_mm": rear - 300.0, "length_mm": 100.0})
    motor = boom.model_copy(update={"aft_mm": rear - 15.0, "length_mm": 40.0})
    assert lines((inside, motor)) == []


def test_figures_of_set_ups_close_together_do_not_run_into_one_another():
    # drawn by the fonts that are there: of four steps of 5 mm on 200 mm not all have room
    setups = tuple(
        setup(f"a_set_up_called_{x:.0f}_mm", x, 0)
        for x in (100.0, 200.0, 205.0, 210.0, 215.0, 300.0)
    )
    figure = new_figure(5.0, 3.0)
    axes = figure.add_subplot()
    draw_balance_scale(axes, JET, setups, ())
    figure.canvas.draw()
    numbers = [t for t in axes.texts if t.get_text().isdigit()]
    boxes = [t.get_window_extent().padded(1.5) for t in numbers]
    assert {"100", "200", "300"} <= {t.get_text() for t in numbers}
    assert len(numbers) < len(setups)
    for i, box in enumerate(boxes):
        assert not any(box.overlaps(other) for other in boxes[:i])


def test_names_of_events_close_together_stand_in_rows_of_their_own():
    _, axes = one_axes(9.0, 3.0)
    axes.set_xlim(0.0, 3.0)
    close = [Event("recovery starts", 2.1, 0.0), Event("level", 2.2, 0.0), Event("x", 0.2, 0.0)]
    assert label_rows(sorted(close, key=lambda x: x.time_s), axes) == [0, 0, 1]


def test_where_no_height_has_an_end_the_axis_has_no_figures(monkeypatch):
    endless = Spread(np.inf, 126.0, np.inf)
    monkeypatch.setattr(gain_risk, "risk_of", lambda *_: endless)
    _, axes = one_axes(6.0, 4.0)
    draw_gain_risk(axes, RESULT.setups, "pitch_response", "height")
    assert list(axes.get_yticks()) == []
    assert "no end known of any" in texts(axes)


def test_a_card_shows_the_foreplane_and_keeps_its_label_off_the_marks():
    tern = load_aeroplane("display_jet")
    wing = tern.surfaces_as("wing")[0]
    ahead = wing.model_copy(update={"role": "canard", "name": "fore", "root_aft_mm": -400.0})
    tern = tern.model_copy(update={"surfaces": (*tern.surfaces, ahead)})
    figure, axes = one_axes(2.9, 2.6)
    draw_finger_view(axes, tern, 15.0)
    assert axes.get_ylim()[1] > 400.0
    figure.canvas.draw()
    (label,) = [x for x in axes.texts if x.get_text() == "15 mm"]
    low = axes.transData.transform((0.0, -15.0))[1]
    assert label.get_window_extent().y1 < low
    assert not has_wing_there(tern, -900.0)
    assert has_wing_there(tern, 178.0)
