"""Studies of which a test looks at the cases alone: what is flown beside them is few flights."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from sim import tables

# by table; 128 draws are the fewest that can show 95 % of a forward limit
BESIDE = {
    "study": {"ways_out_draws": 2, "step_check_flights": 4},
    "landing": {"draws": 128},
    "flight_time": {"draws": 32},
}


@contextmanager
def briefly() -> Iterator[None]:
    """Fly few ways out of a deep stall, few at half the step, few draws of landing and duty."""
    with pytest.MonkeyPatch.context() as patch:
        for name, few in BESIDE.items():
            table = getattr(tables, name)().model_copy(update=few)
            patch.setattr(tables, name, lambda table=table: table)
        yield
