"""Console tables and page parts with a known answer."""

from dataclasses import dataclass

import pytest

from sim.commands.pictures import draw_departure
from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.judge import Verdict
from sim.pack.assemble import assemble
from sim.show.card.page import TEMPLATES as CARD_TEMPLATES
from sim.show.console.aeroplane.origins import origin_tables
from sim.show.console.aeroplane.tail import tail_tables
from sim.show.console.console import render
from sim.show.console.flight import flight_tables
from sim.show.report.page import TEMPLATES as REPORT_TEMPLATES
from sim.show.words.ladder_ends import ending_text
from sim.show.words.steps import step_sentence
from sim.spin.scale import Scale
from sim.study.results.stepped import StepCheck


@pytest.fixture(scope="module")
def ready():
    return assemble(load_aeroplane("club_sport"))


def test_every_surface_says_where_its_coefficients_come_from(ready):
    told = render(origin_tables(ready))
    for surface in ready.aeroplane.surfaces:
        assert surface.name in told


def test_a_flight_is_told_with_its_heights(ready):
    flight = fly_one(ready, load_manoeuvre("throttle_chop_stall"), load_recovery("centre_sticks"))
    told = render(flight_tables(flight, Verdict.HELD, [], 120.0, 40.0))
    assert "held: it did not depart" in told
    assert "120 m" in told


def test_no_tail_no_factor_but_the_masses():
    scale = Scale(1.4, 5.25, -0.0095)
    told = render(tail_tables(None, scale))
    assert "5.2" in told
    assert "-95 e-4" in told


@pytest.mark.parametrize(
    "path", [REPORT_TEMPLATES / "page.css", CARD_TEMPLATES / "card.css"], ids=lambda x: x.name
)
def test_a_style_closes_what_it_opens(path):
    style = path.read_text(encoding="utf-8")
    assert style.count("{") == style.count("}") > 20


def test_a_departure_is_drawn_to_the_file_asked_for(ready, tmp_path):
    assert draw_departure(ready, str(tmp_path / "d.svg")).read_text().startswith("<?xml")


def test_the_step_is_told_as_half_of_it():
    one = StepCheck(
        flights=32,
        step_s=0.005,
        most_lowest_m=0.5,
        most_lost_m=1.5,
        median_m=0.002,
        beyond_centimetre=3,
        beyond_metre=1,
        turned=(),
    )
    said = step_sentence(one)
    assert "32 flights were flown again in half the time step (2.5 ms)" in said
    assert "agree within 1 cm in 29 of them, within 1 m in 31, half within 2.0 mm" in said
    assert "the one furthest apart differs by 2 m (a flight that tumbles" in said
    assert said.endswith("no verdict turned.")


@dataclass
class Reached:
    """As much of a ladder as its last sentence reads."""

    setup: str = "club"
    wanted_mm: float = 178.0
    reached: bool = True


def test_a_ladder_that_arrives_says_so():
    assert ending_text(Reached()) == "The last step is the wanted set-up, club at 178 mm."
