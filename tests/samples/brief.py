"""Studies of which a test looks at the cases alone: what is flown beside them is few flights.

And a flight that is lost is given up sooner than flight.toml says, far below any floor still.
"""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from sim import tables

# by table; 128 draws are the fewest that can show 95 % of a forward limit, and with no throw or
# area to be had none is looked for
BESIDE = {
    "study": {"ways_out_draws": 2, "step_check_flights": 4},
    "landing": {"draws": 128, "most_throw_deg": 0.0, "elevator_sizes": ()},
    "servo_loads": {"by_load": 1, "by_speed": 0, "by_angle": 0},
    "flight_time": {"draws": 32},
    "flight": {"most_drop_m": 200.0},
}


@contextmanager
def briefly(*whole: str) -> Iterator[None]:
    """Fly few ways out of a deep stall, few at half the step, few draws of landing and duty.

    And few again for what wing and servos carry; no more throw or area is looked for. Keys that
    are named stay as the tables have them.
    """
    with pytest.MonkeyPatch.context() as patch:
        for name, beside in BESIDE.items():
            few = {key: value for key, value in beside.items() if key not in whole}
            table = getattr(tables, name)().model_copy(update=few)
            patch.setattr(tables, name, lambda table=table: table)
        yield
