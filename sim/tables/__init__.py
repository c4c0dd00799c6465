"""The tables of `aero_tables`, each read once and typed: ``tables.judge().bank_drop_deg``.

A function has the name of its file and returns the file's model (`sim.tables.models`): a TOML
table's keys or a CSV table's columns. A file that does not fit its model is refused whole.

Raises
------
TableFault
    Every function does, where its file cannot be used; a line for each fault.
"""

from functools import lru_cache

from sim.tables.models.agility import Agility
from sim.tables.models.assumed import Assumed
from sim.tables.models.body_model import BodyModel
from sim.tables.models.card import Card
from sim.tables.models.columns import (
    BodySideForce,
    EiffelPlatesInclined,
    EiffelPlatesNormal,
    Naca0015,
    PotentialCentre,
    SectionShape,
    SpinReference,
    VortexBurst,
)
from sim.tables.models.control_model import ControlModel
from sim.tables.models.drives import Drives
from sim.tables.models.error_model import ErrorModel
from sim.tables.models.flap_effect import FlapEffect
from sim.tables.models.flight import Flight
from sim.tables.models.flight_time import FlightTime
from sim.tables.models.gyro_loop import GyroLoop
from sim.tables.models.inlet import Inlet
from sim.tables.models.judge import Judge
from sim.tables.models.kinds import Kinds
from sim.tables.models.landing import Landing
from sim.tables.models.lipo_cell import LipoCell
from sim.tables.models.measuring import Measuring
from sim.tables.models.one_out import OneOutTable
from sim.tables.models.performance import PerformanceTable
from sim.tables.models.pilot import Pilot
from sim.tables.models.plate_model import PlateModel
from sim.tables.models.plausible import Plausible
from sim.tables.models.power_fit import PowerFitTable
from sim.tables.models.propeller_section import PropellerSection
from sim.tables.models.section_model import SectionModel
from sim.tables.models.servo_loads import ServoLoads
from sim.tables.models.spin_search import SpinSearch
from sim.tables.models.strip_model import StripModel
from sim.tables.models.study import Study
from sim.tables.models.uncertainty import Uncertainty
from sim.tables.models.usual import Usual
from sim.tables.models.vortex_model import VortexModel
from sim.tables.models.wake_model import WakeModel
from sim.tables.typed import from_csv, from_toml


@lru_cache
def agility() -> Agility:
    """Return how what pilots go aft for is measured."""
    return from_toml("agility.toml", Agility)


@lru_cache
def assumed() -> Assumed:
    """Return what is drawn wider because nobody measured it."""
    return from_toml("assumed.toml", Assumed)


@lru_cache
def body_model() -> BodyModel:
    """Return the fuselage's constants."""
    return from_toml("body_model.toml", BodyModel)


@lru_cache
def card() -> Card:
    """Return step sizes and limits of the flight card and its ladder."""
    return from_toml("card.toml", Card)


@lru_cache
def control_model() -> ControlModel:
    """Return hinge moments, end stops and a gyro's hold."""
    return from_toml("control_model.toml", ControlModel)


@lru_cache
def drives() -> Drives:
    """Return what nobody measures of what drives an aeroplane."""
    return from_toml("drives.toml", Drives)


@lru_cache
def error_model() -> ErrorModel:
    """Return how the build-up's own errors change with angle of attack."""
    return from_toml("error_model.toml", ErrorModel)


@lru_cache
def flap_effect() -> FlapEffect:
    """Return what is left of a plain flap's effect."""
    return from_toml("flap_effect.toml", FlapEffect)


@lru_cache
def flight() -> Flight:
    """Return how flights are integrated."""
    return from_toml("flight.toml", Flight)


@lru_cache
def gyro_loop() -> GyroLoop:
    """Return what a gyro's loop must keep, and where it is looked at."""
    return from_toml("gyro_loop.toml", GyroLoop)


@lru_cache
def flight_time() -> FlightTime:
    """Return how flight time is reckoned."""
    return from_toml("flight_time.toml", FlightTime)


@lru_cache
def inlet() -> Inlet:
    """Return what an inlet loses at an angle."""
    return from_toml("inlet.toml", Inlet)


@lru_cache
def judge() -> Judge:
    """Return the thresholds by which a flight is judged."""
    return from_toml("judge.toml", Judge)


@lru_cache
def kinds() -> Kinds:
    """Return what kinds of aeroplane usually are."""
    return from_toml("kinds.toml", Kinds)


@lru_cache
def landing() -> Landing:
    """Return what approach, flare and take-off ask of the tail."""
    return from_toml("landing.toml", Landing)


@lru_cache
def lipo_cell() -> LipoCell:
    """Return a cell's voltage against its charge."""
    return from_toml("lipo_cell.toml", LipoCell)


@lru_cache
def measuring() -> Measuring:
    """Return what a pilot can measure before a flight, and what that leaves unknown."""
    return from_toml("measuring.toml", Measuring)


@lru_cache
def performance() -> PerformanceTable:
    """Return what the power report looks at."""
    return from_toml("performance.toml", PerformanceTable)


@lru_cache
def one_out() -> OneOutTable:
    """Return at what one unit stopped is looked at."""
    return from_toml("one_out.toml", OneOutTable)


@lru_cache
def pilot() -> Pilot:
    """Return the modelled pilot's reaction and gains."""
    return from_toml("pilot.toml", Pilot)


@lru_cache
def plate_model() -> PlateModel:
    """Return the constants of fins and small tails."""
    return from_toml("plate_model.toml", PlateModel)


@lru_cache
def plausible() -> Plausible:
    """Return the bands of what a model aeroplane usually is."""
    return from_toml("plausible.toml", Plausible)


@lru_cache
def power_fit() -> PowerFitTable:
    """Return what a bench fit may move, and how good measurements are."""
    return from_toml("power_fit.toml", PowerFitTable)


@lru_cache
def propeller_section() -> PropellerSection:
    """Return the section of a propeller's blade."""
    return from_toml("propeller_section.toml", PropellerSection)


@lru_cache
def section_model() -> SectionModel:
    """Return the constants of wing sections."""
    return from_toml("section_model.toml", SectionModel)


@lru_cache
def servo_loads() -> ServoLoads:
    """Return how what servos and wing carry is read off flights."""
    return from_toml("servo_loads.toml", ServoLoads)


@lru_cache
def spin_search() -> SpinSearch:
    """Return how spin equilibria are looked for."""
    return from_toml("spin_search.toml", SpinSearch)


@lru_cache
def strip_model() -> StripModel:
    """Return the constants of the strip build-up."""
    return from_toml("strip_model.toml", StripModel)


@lru_cache
def study() -> Study:
    """Return how studies search, compare and report."""
    return from_toml("study.toml", Study)


@lru_cache
def uncertainty() -> Uncertainty:
    """Return what is not exactly known, and by how much."""
    return from_toml("uncertainty.toml", Uncertainty)


@lru_cache
def usual() -> Usual:
    """Return what measurements usually are, by kind."""
    return from_toml("usual.toml", Usual)


@lru_cache
def vortex_model() -> VortexModel:
    """Return the constants of leading-edge vortices."""
    return from_toml("vortex_model.toml", VortexModel)


@lru_cache
def wake_model() -> WakeModel:
    """Return how deep and wide separated wakes are."""
    return from_toml("wake_model.toml", WakeModel)


@lru_cache
def body_side_force() -> BodySideForce:
    """Return the side force that drives a body on as it yaws."""
    return from_csv("body_side_force.csv", BodySideForce)


@lru_cache
def eiffel_plates_inclined() -> EiffelPlatesInclined:
    """Return Eiffel's plates at an angle."""
    return from_csv("eiffel_plates_inclined.csv", EiffelPlatesInclined)


@lru_cache
def eiffel_plates_normal() -> EiffelPlatesNormal:
    """Return Eiffel's plates across the flow."""
    return from_csv("eiffel_plates_normal.csv", EiffelPlatesNormal)


@lru_cache
def naca0015() -> Naca0015:
    """Return the measured NACA 0015."""
    return from_csv("naca0015_sand80-2114.csv", Naca0015)


@lru_cache
def potential_centre() -> PotentialCentre:
    """Return where the linear load of plates lies."""
    return from_csv("potential_centre.csv", PotentialCentre)


@lru_cache
def section_shape() -> SectionShape:
    """Return stall and suction by thickness and leading edge."""
    return from_csv("section_shape.csv", SectionShape)


@lru_cache
def spin_reference() -> SpinReference:
    """Return published spins of full-size aeroplanes."""
    return from_csv("spin_reference.csv", SpinReference)


@lru_cache
def vortex_burst() -> VortexBurst:
    """Return where leading-edge vortices burst."""
    return from_csv("vortex_burst.csv", VortexBurst)
