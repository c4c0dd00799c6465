"""What the user wrote: aeroplanes, set-ups, manoeuvres and studies, read and checked."""

from sim.describe.aeroplane import Aeroplane, FlyingField, Structure
from sim.describe.controls import Channel, Expo, Gyro, GyroChange, ServoType, Stick, Throws
from sim.describe.faults import Fault, FileFault
from sim.describe.geometry import Body, Control, Section, Station, Surface
from sim.describe.manoeuvre import Manoeuvre, Phase, Recovery, Script, Start, Until, as_wanted
from sim.describe.masses import (
    AirframeShare,
    LooseWeight,
    Measured,
    Pack,
    Part,
    SwingTest,
    Tray,
    WeightPlace,
)
from sim.describe.power import (
    Controller,
    Drive,
    Fan,
    FanUnit,
    Motor,
    Propeller,
    PropellerUnit,
)
from sim.describe.reading.files import load_aeroplane, load_manoeuvre, load_recovery, load_script
from sim.describe.reading.finding import bundled, data_folder, find
from sim.describe.reading.study_files import StudyFiles, load_study, load_study_files
from sim.describe.resolving import resolve_setup
from sim.describe.setup import SetUp, SetUpBlock, StudySetUp
from sim.describe.study import AftLimit, Case, Study

__all__ = [
    "Aeroplane",
    "AftLimit",
    "AirframeShare",
    "Body",
    "Case",
    "Channel",
    "Control",
    "Controller",
    "Drive",
    "Expo",
    "Fan",
    "FanUnit",
    "Fault",
    "FileFault",
    "FlyingField",
    "Gyro",
    "GyroChange",
    "LooseWeight",
    "Manoeuvre",
    "Measured",
    "Motor",
    "Pack",
    "Part",
    "Phase",
    "Propeller",
    "PropellerUnit",
    "Recovery",
    "Script",
    "Section",
    "ServoType",
    "SetUp",
    "SetUpBlock",
    "Start",
    "Station",
    "Stick",
    "Structure",
    "Study",
    "StudyFiles",
    "StudySetUp",
    "Surface",
    "SwingTest",
    "Throws",
    "Tray",
    "Until",
    "WeightPlace",
    "as_wanted",
    "bundled",
    "data_folder",
    "find",
    "load_aeroplane",
    "load_manoeuvre",
    "load_recovery",
    "load_script",
    "load_study",
    "load_study_files",
    "resolve_setup",
]
