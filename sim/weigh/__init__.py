"""Mass, balance point and inertia of a set-up, from its parts."""

from sim.weigh.balance import OutOfReachError
from sim.weigh.measured import swing_inertia
from sim.weigh.reference import Reference, reference
from sim.weigh.weighing import Row, TableRow, Weighed, weigh_set_up, weigh_table

__all__ = [
    "OutOfReachError",
    "Reference",
    "Row",
    "TableRow",
    "Weighed",
    "reference",
    "swing_inertia",
    "weigh_set_up",
    "weigh_table",
]
