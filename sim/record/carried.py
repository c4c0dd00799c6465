"""What one flight asked of servos and wing, for its record."""

from sim.record.models.structure import CarriedRow, ServoRow
from sim.structure.flight_loads import FlightLoads
from sim.study.structure import servo_needs


def carried_row(loads: FlightLoads, limit_nm: float) -> CarriedRow:
    """Return the row of a flight; ``limit_nm`` is the root's bending at the limit load [N m]."""
    return CarriedRow(
        peak_speed_mps=loads.speed_mps,
        bending_share=loads.bending_nm / limit_nm,
        servos=[ServoRow.model_validate(x) for x in servo_needs([("", loads)])],
    )
