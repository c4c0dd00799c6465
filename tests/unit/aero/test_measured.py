"""A section with a table of its own: what a pilot's polar says comes out at the strips."""

import numpy as np
import pytest

from sim.aero.choice import Parameters, surface_table
from sim.aero.origins import origins
from sim.aero.sections.aerofoil import section_table
from sim.aero.sections.measured import SectionAsked, measured_table
from sim.core.loads.lookup import CM, CN, G0, X0, alpha_of_coordinate, grid
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.describe.section_table import read_section_table
from sim.fly.flying import fly_one
from sim.pack.assemble import assemble
from sim.study.flights.draws import make_draws
from sim.tables.reading import read_csv
from tests.samples.own_section import HEADER, own_aeroplane, polar, write_own
from tests.validation.curves import at, drag, lift

# R. E. Sheldahl, P. C. Klimas, SAND80-2114 (1981), tables of the NACA 0015, Re 360,000
NACA0015 = "naca0015_sand80-2114.csv"
REYNOLDS = 360000.0
ALPHA = np.degrees(alpha_of_coordinate(grid()))
# a node each 0.6°: a corner of the printed table between two nodes is cut by this much
CORNER_CL, CORNER_CD = 0.005, 0.001


def asked(**changes):
    return SectionAsked(15.0, 0.0, "round", REYNOLDS, np.inf)._replace(**changes)


def printed(low, high):
    columns = read_csv(NACA0015).columns
    rows = (columns["Re"] == REYNOLDS) & (columns["alpha_deg"] >= low)
    rows &= columns["alpha_deg"] <= high
    return columns["alpha_deg"][rows], columns["CL"][rows], columns["CD"][rows]


@pytest.mark.parametrize("finite", [{}, {"aspect_ratio": 6.0, "induced": (0.05, 0.0)}])
def test_lift_and_drag_are_the_printed_ones_where_the_table_rules(finite):
    table = measured_table(read_section_table(NACA0015), asked(**finite))
    degrees, cl, cd = printed(0.0, 14.0)
    np.testing.assert_allclose(lift(table, degrees), cl, atol=CORNER_CL)
    np.testing.assert_allclose(drag(table, degrees), cd, atol=CORNER_CD)
    np.testing.assert_allclose(lift(table, -degrees), -cl, atol=CORNER_CL)
    assert lift(table, np.linspace(0, 20, 401)).max() == pytest.approx(cl.max(), abs=CORNER_CL)
    slope = (lift(table, 4.0) - lift(table, -4.0)) / 8.0
    assert slope == pytest.approx(0.11, abs=1e-4)  # CL 0.44 at 4 degrees, as printed


def test_far_beyond_its_end_a_section_is_as_any_other():
    table = measured_table(read_section_table(NACA0015), asked())
    own = section_table(*asked())
    far = np.abs(ALPHA) >= 35.0
    np.testing.assert_allclose(table[far, :3], own[far, :3], atol=0.03)
    assert np.abs(np.diff(table[:, CN])).max() < 0.2


def cambered(tmp_path, low=-6.0, high=13.0, stalls=11.0):
    """Return a section of slope 0.1 a degree and CM -0.07, that loses 0.2 a degree past CL 1.4."""
    angles = np.arange(low, high + 0.1, 1.0)
    cl = 0.1 * (angles + 3.0) - 0.3 * np.maximum(angles - stalls, 0.0)
    rows = zip(angles, cl, 0.01 + 0.0002 * angles**2, strict=True)
    header = HEADER.replace("Re, alpha_deg, CL, CD", "alpha_deg, CL, CD, CM")
    header = header.replace("1, deg, 1, 1", "deg, 1, 1, 1")
    lines = ["alpha_deg,CL,CD,CM", *(f"{a:g},{c:.4f},{d:.5f},-0.07" for a, c, d in rows)]
    (tmp_path / "own.csv").write_text(header + "\n".join(lines))
    return read_section_table("own.csv", tmp_path)


def test_a_cambered_table_goes_on_smoothly_at_both_ends(tmp_path):
    table = measured_table(cambered(tmp_path), asked(camber_pct=3.0))
    degrees = np.arange(-5.0, 11.0)
    np.testing.assert_allclose(lift(table, degrees), 0.1 * (degrees + 3.0), atol=2e-3)
    np.testing.assert_allclose(at(table, degrees, CM), -0.07, atol=1e-3)
    # no more lift anywhere than the table's greatest, and no step from node to node; its own
    # stall takes 0.2 a degree, and a node has 0.9 degrees there
    near = np.abs(ALPHA) < 40.0
    assert lift(table, np.linspace(-40, 40, 801)).max() == pytest.approx(1.4, abs=0.02)
    assert lift(table, np.linspace(-40, 0, 401)).min() > -1.1
    assert np.abs(np.diff(table[near, CN])).max() < 0.19
    assert lift(table, 30.0) == pytest.approx(0.855, abs=0.05)  # separated, as any section


def test_drawn_values_move_its_stall_and_its_separated_flow():
    table = read_section_table(NACA0015)
    base = measured_table(table, asked())
    later = measured_table(table, asked(stall_shift_deg=2.0))
    for side in (1.0, -1.0):
        near = (side * ALPHA > 0.0) & (np.abs(ALPHA) < 60.0)
        held = [np.sum(np.gradient(np.abs(ALPHA[near])) * x[near, G0]) for x in (later, base)]
        assert abs(held[0]) - abs(held[1]) == pytest.approx(2.0, abs=0.6)
    more = measured_table(table, asked(post_stall_factor=1.1))
    assert at(more, 60.0, CN) == pytest.approx(1.1 * at(base, 60.0, CN))
    assert at(more, 3.0, CN) == pytest.approx(at(base, 3.0, CN))


@pytest.mark.parametrize("shift", [-4.0, 0.0, 4.0])
def test_shares_stay_shares(tmp_path, shift):
    for given in (read_section_table(NACA0015), cambered(tmp_path)):
        table = measured_table(given, asked(stall_shift_deg=shift))
        assert np.isfinite(table).all()
        assert table[:, [X0, G0]].min() >= 0.0
        assert table[:, [X0, G0]].max() <= 1.0


def test_an_aeroplane_flies_with_the_section_that_its_wing_names(tmp_path):
    own = own_aeroplane(tmp_path)
    table = surface_table(own.surfaces[0], 15.0, Parameters())
    degrees, cl, cd = printed(0.0, 11.0)
    np.testing.assert_allclose(lift(table, degrees), cl, atol=CORNER_CL)
    np.testing.assert_allclose(drag(table, degrees), cd, atol=CORNER_CD)
    assert origins(own.surfaces[0], 15.0)[0].startswith("section from file polar.csv, -20 to 20")
    ready = assemble(own)
    draw = make_draws(ready.spreads, 2, 1).physical[1]
    stall, out = load_manoeuvre("throttle_chop_stall"), load_recovery("centre_sticks")
    for given in (None, draw):
        assert fly_one(ready, stall, out, draw=given).history.shape[0] > 100


def test_the_tables_numbers_are_part_of_a_stored_flights_key(tmp_path):
    keys = []
    for digit in ("0.0091", "0.0092"):
        path = write_own(tmp_path, polar().replace("0.0091", digit))
        keys.append(load_aeroplane(path).model_dump_json(exclude={"setups"}))
    assert keys[0] != keys[1]
