"""Studies of which a test looks at the cases alone: what is flown beside them is few flights.

And a flight that is lost is given up sooner than flight.toml says, far below any floor still.
"""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from sim import tables

SHOWING = 128  # draws, the fewest that can show 95 % of a forward limit
# by table; with no throw or area to be had none is looked for
BESIDE = {
    "study": {"ways_out_draws": 2, "step_check_flights": 2},
    "landing": {"draws": SHOWING, "most_throw_deg": 0.0, "elevator_sizes": ()},
    "servo_loads": {"by_load": 1, "by_speed": 0, "by_angle": 0},
    "flight_time": {"draws": 32},
    "flight": {"most_drop_m": 200.0},
}


@contextmanager
def briefly(*whole: str, landing_draws: int = SHOWING) -> Iterator[None]:
    """Fly few ways out of a deep stall, few at half the step, few draws of landing and duty.

    And again, for what wing and servos carry, the flight with most load alone; no more throw or
    area is looked for. Keys that are named stay as the tables have them. With fewer
    ``landing_draws`` no forward limit can be shown, and none is looked for.
    """
    # what leads the tests beside the workers waits for this, and has no use for it
    from sim.study import structure

    hardest = structure.hardest
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(structure, "hardest", lambda known, _: hardest(known, ()))
        for name, beside in BESIDE.items():
            few = {key: value for key, value in beside.items() if key not in whole}
            if name == "landing":
                few["draws"] = landing_draws
            table = getattr(tables, name)().model_copy(update=few)
            patch.setattr(tables, name, lambda table=table: table)
        yield
