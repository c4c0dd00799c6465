"""A flight time made by hand, for the tests of what is shown."""

from sim.power.full_load import FullLoad, TooMuch
from sim.study.results.flight_time import FlightTime, Spread, Work

LOAD = FullLoad(
    pack_a=67.2, motor_a=67.2, c_rate=16.8, resistance_mohm=20.0, start_cell_v=3.98,
    end_cell_v=3.57, too_much=(TooMuch("controller", 67.2, 60.0), TooMuch("cell", 3.21, 3.3)),
)  # fmt: skip
WORKS = (
    Work("cruise", 60.0, 28.1, 0.63, 18.4, holds=True),
    Work("manoeuvring", 20.0, 28.1, 1.0, 58.7, holds=True),
    Work("climb", 10.0, 21.0, 1.0, 59.3, holds=True),
    Work("high_alpha", 10.0, 9.6, 1.0, 59.0, holds=False),
)
TIME = FlightTime(
    pack="6s_4000", reserve_pct=25.0, usable_mah=2760.0, works=WORKS, assumed=True, charged=None,
    current_a=31.4, minutes=Spread(4.34, 5.24, 6.38), timer_min=4.0, cruise_alone_min=8.9,
    top_mps=43.2,     load=LOAD,
)  # fmt: skip
