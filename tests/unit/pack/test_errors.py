"""The build-up's own errors: where they act, and what each one does."""

import numpy as np
import pytest

import sim
from sim import tables
from sim.core import draw_layout as d
from sim.core import error_layout as e
from sim.core.draw_layout import ERROR_NAMES as NAMES
from sim.core.flights.perturb import perturbed

ANGLES = np.array([2.0, 13.0, 18.0, 22.0, 45.0, 75.0, 90.0])
PLACES = {name: d.D_ERRORS + i for i, name in enumerate(NAMES)}


def change(jet, name, amount, alpha=ANGLES, **more):
    """Return what an error does to the six coefficients (n, 6)."""
    draw = np.zeros(d.N_DRAW)
    draw[PLACES[name]] = amount
    with_it, without = (
        sim.coefficients(jet, alpha_deg=alpha, draws=x, **more) for x in (draw, None)
    )
    return np.stack(
        [getattr(with_it, n) - getattr(without, n) for n in ("CX", "CY", "CZ", "Cl", "Cm", "Cn")],
        axis=-1,
    )


def shape(name, alpha):
    """Return the shape by an own reading of its table: straight lines in the sine."""
    table = tables.error_model()
    sines = np.sin(np.radians(table.angles_deg))
    above = [table.shapes[name][0], *table.from_above[name]]
    sine = np.sin(np.radians(alpha))
    return np.where(
        sine >= 0.0,
        np.interp(sine, sines, table.shapes[name]),
        np.interp(-sine, sines, above),
    )


def test_names_stand_in_the_order_of_the_draw(display_jet):
    names = [s.name for s in display_jet.spreads]
    assert [names.index(name) for name in NAMES] == list(PLACES.values())
    assert len(NAMES) == e.N_ERRORS


@pytest.mark.parametrize(
    ("name", "column", "sign"), [("normal_force_error", 2, -1.0), ("pitch_error", 4, 1.0)]
)
def test_force_and_pitch_are_coefficients(display_jet, name, column, sign):
    found = change(display_jet, name, 0.2)
    expected, above = np.zeros((2, ANGLES.size, 6))
    expected[:, column] = 0.2 * sign * shape(name, ANGLES)
    above[:, column] = -0.2 * sign * shape(name, -ANGLES)
    assert found == pytest.approx(expected, abs=1e-6)
    # the other way round with the air from above, by its own shape; flying backwards as ahead
    assert change(display_jet, name, 0.2, -ANGLES) == pytest.approx(above, abs=1e-6)
    assert change(display_jet, name, 0.2, 180.0 - ANGLES) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(("name", "column"), [("axial_force_error", 0), ("trim_error", 4)])
def test_force_along_the_body_and_trim_do_not_turn_over(display_jet, name, column):
    expected = np.zeros((ANGLES.size, 6))
    for alpha in (ANGLES, -ANGLES, 180.0 - ANGLES):
        expected[:, column] = 0.05 * shape(name, alpha)
        assert change(display_jet, name, 0.05, alpha) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize(
    ("name", "column"),
    [("yaw_stiffness_error", 5), ("roll_stiffness_error", 3), ("side_force_error", 1)],
)
def test_stiffness_goes_with_the_sine_of_sideslip(display_jet, name, column):
    for beta in (8.0, -8.0):
        found = change(display_jet, name, 0.1, beta_deg=beta)
        expected = np.zeros((ANGLES.size, 6))
        # the air meets the wings' plane at w/V = sin(alpha) cos(beta)
        angle = np.degrees(np.arcsin(np.sin(np.radians(ANGLES)) * np.cos(np.radians(beta))))
        expected[:, column] = 0.1 * shape(name, angle) * np.sin(np.radians(beta))
        assert found == pytest.approx(expected, abs=1e-6)


def test_damping_is_a_share_of_the_attached_one(display_jet):
    quiet = sim.coefficients(display_jet, alpha_deg=2.0, rates=(0, [-0.01, 0.01], 0))
    damping = np.diff(quiet.Cm)[0] / 0.02
    found = change(display_jet, "damping_error", -0.5, rates=(0.0, 0.02, 0.0))
    assert found[:, 4] == pytest.approx(
        -0.5 * damping * 0.02 * shape("damping_error", ANGLES), rel=1e-3, abs=1e-7
    )
    # half of the damping lost: it turns further nose up than it would
    assert found[-1, 4] > 0.0


@pytest.mark.parametrize(
    ("name", "column", "turned"),
    [
        ("tail_power_error", 4, {"tail": 10.0}),
        ("rudder_power_error", 5, {"rudder": 10.0}),
        ("aileron_power_error", 3, {"aileron right": 10.0, "aileron left": -10.0}),
    ],
)
def test_power_is_a_share_of_the_attached_one(display_jet, name, column, turned):
    moments = [
        sim.coefficients(
            display_jet,
            alpha_deg=2.0,
            deflections_deg={n: side * a / 10.0 for n, a in turned.items()},
        )
        for side in (1.0, -1.0)
    ]
    part = ("CX", "CY", "CZ", "Cl", "Cm", "Cn")[column]
    power = 5.0 * float(getattr(moments[0], part) - getattr(moments[1], part))
    found = change(display_jet, name, 0.4, deflections_deg=turned)
    assert found[:, column] == pytest.approx(0.4 * power * shape(name, ANGLES), rel=1e-3, abs=1e-7)


def test_aileron_yaw_is_a_side_force_at_the_fin(display_jet):
    turned = {"aileron right": 10.0, "aileron left": -10.0}
    both = [
        sim.coefficients(
            display_jet, alpha_deg=2.0, deflections_deg={n: s * a / 10.0 for n, a in turned.items()}
        ).Cl
        for s in (1.0, -1.0)
    ]
    roll = 5.0 * float(both[0] - both[1])
    found = change(display_jet, "aileron_yaw_error", 0.2, deflections_deg=turned)
    expected = 0.2 * roll * shape("aileron_yaw_error", ANGLES)
    assert found[:, 5] == pytest.approx(expected, rel=1e-3, abs=1e-7)
    # a force to the right behind the balance point yaws to the left, with the fin's lever
    span = display_jet.weighed.reference.span_m
    drawn = shape("aileron_yaw_error", ANGLES) > 0.0
    arm = -found[drawn, 5] / found[drawn, 1] * span
    assert 0.2 * span < arm[0] < display_jet.weighed.reference.length_m
    assert found[:, [0, 2, 3, 4]] == pytest.approx(0.0, abs=1e-7)


@pytest.mark.parametrize(
    ("name", "column", "of", "turned"),
    [
        ("tail_lift_error", 2, 2, {"tail": 10.0}),
        ("tail_drag_error", 0, 2, {"tail": 10.0}),
        ("rudder_side_error", 1, 1, {"rudder": 10.0}),
        ("rudder_roll_error", 3, 5, {"rudder": 10.0}),
    ],
)
def test_what_a_control_does_beside_its_moment_is_a_share_of_an_attached_one(
    display_jet, name, column, of, turned
):
    both = [
        sim.coefficients(
            display_jet, alpha_deg=2.0, deflections_deg={n: s * a / 10.0 for n, a in turned.items()}
        )
        for s in (1.0, -1.0)
    ]
    part = ("CX", "CY", "CZ", "Cl", "Cm", "Cn")[of]
    power = 5.0 * float(getattr(both[0], part) - getattr(both[1], part))
    found = change(display_jet, name, 0.4, deflections_deg=turned)
    expected = np.zeros((ANGLES.size, 6))
    expected[:, column] = 0.4 * power * shape(name, ANGLES)
    assert found == pytest.approx(expected, rel=1e-3, abs=1e-6)
    assert np.abs(expected).max() > 1e-3


def test_a_drawn_aeroplane_keeps_its_mirror_image(display_jet):
    draw = np.zeros(d.N_DRAW)
    draw[list(PLACES.values())] = 0.3
    signs = np.array([1.0, -1.0, 1.0, -1.0, 1.0, -1.0])
    sides = [
        sim.coefficients(
            display_jet, alpha_deg=ANGLES, beta_deg=side * 5.0,
            rates=(side * 0.02, 0.01, side * 0.03), deflections_deg={"rudder": side * 9.0},
            draws=draw,
        )
        for side in (1.0, -1.0)
    ]  # fmt: skip
    right, left = (
        np.stack([getattr(x, n) for n in ("CX", "CY", "CZ", "Cl", "Cm", "Cn")], -1) for x in sides
    )
    assert left * signs == pytest.approx(right, abs=1e-6)


def test_nominal_flights_have_none(display_jet):
    model = display_jet.model
    amounts = slice(e.Y_DRAWN, e.Y_SHAPE)
    assert not model.errors[amounts].any()
    draw = np.zeros(d.N_DRAW)
    draw[PLACES["pitch_error"]] = 0.07
    new = perturbed(model, display_jet.roles, draw)
    first = e.N_NODES * e.Y_PITCH + e.LEVEL_NODE + 3  # at 25 degrees, where its shape is 1
    size = display_jet.weighed.reference.area_m2 * display_jet.weighed.reference.mean_chord_m
    assert new.errors[e.Y_DRAWN + first] == pytest.approx(0.07 * size)
    assert not model.errors[amounts].any()


@pytest.mark.parametrize(("axis", "column"), [(0, 3), (2, 5)])
def test_damping_s_error_grows_no_more_beyond_the_rates_that_were_measured(
    display_jet, axis, column
):
    # one that takes more than the damping away must not turn an aeroplane ever faster
    most = tables.error_model().most_turn_rate

    def at(rate):
        turned = [0.0, 0.0, 0.0]
        turned[axis] = rate  # w b/2V
        return change(display_jet, "damping_error", -0.6, 60.0, rates=tuple(turned))[..., column]

    assert at(0.5 * most) == pytest.approx(0.5 * at(most), rel=1e-6)
    assert at(3.0 * most) == pytest.approx(at(most), rel=1e-6)
    assert at(-3.0 * most) == pytest.approx(-at(most), rel=1e-6)
    assert abs(float(np.squeeze(at(most)))) > 1e-3
