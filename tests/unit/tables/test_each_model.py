"""Every model has the keys of its file, no more and no fewer."""

import pytest

from sim.tables.models.agility import Agility
from sim.tables.models.assumed import Assumed
from sim.tables.models.body_model import BodyModel
from sim.tables.models.card import Card
from sim.tables.models.control_model import ControlModel
from sim.tables.models.drives import Drives
from sim.tables.models.flap_effect import FlapEffect
from sim.tables.models.flight import Flight
from sim.tables.models.flight_time import FlightTime
from sim.tables.models.gyro_loop import GyroLoop
from sim.tables.models.inlet import Inlet
from sim.tables.models.kinds import Kinds
from sim.tables.models.landing import Landing
from sim.tables.models.lipo_cell import LipoCell
from sim.tables.models.one_out import OneOutTable
from sim.tables.models.performance import PerformanceTable
from sim.tables.models.pilot import Pilot
from sim.tables.models.plate_model import PlateModel
from sim.tables.models.plausible import Plausible
from sim.tables.models.power_fit import PowerFitTable
from sim.tables.models.propeller_section import PropellerSection
from sim.tables.models.section_model import SectionModel
from sim.tables.models.servo_loads import ServoLoads
from sim.tables.models.study import Study
from sim.tables.models.usual import Usual
from sim.tables.models.vortex_model import VortexModel
from sim.tables.models.wake_model import WakeModel
from sim.tables.reading import TableFault, read_toml
from sim.tables.typed import modelled

MODELS = (
    BodyModel, Card, ControlModel, FlapEffect, Flight, FlightTime, GyroLoop, Inlet, LipoCell,
    PerformanceTable, Pilot, PlateModel, Plausible, PowerFitTable, PropellerSection, SectionModel,
    ServoLoads, Study, VortexModel, WakeModel, Agility,
    Landing, OneOutTable, Assumed, Drives, Kinds, Usual,
)  # fmt: skip


@pytest.mark.parametrize("model", MODELS)
def test_a_model_has_the_keys_of_its_file(model):
    name = f"{model.__module__.rsplit('.', 1)[1]}.toml"
    values = dict(read_toml(name).values)
    assert set(values) == set(model.model_fields)
    gone = next(iter(values))
    with pytest.raises(TableFault, match=f"{name}: {gone}"):
        modelled(name, model, {key: v for key, v in values.items() if key != gone})
