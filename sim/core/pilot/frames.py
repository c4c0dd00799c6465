"""What sticks of a phase are told by: the turn that is seen."""

from sim.core import kernel
from sim.core.layout import STICK_RUDDER
from sim.core.script_layout import FRAME_SPIN, PH_ELEVATOR, PH_FRAME


@kernel(borrowing=True)
def is_against(phase):
    """Return True if a phase has rudder against the turn; without unit, as scripts say it."""
    return int(phase[PH_FRAME]) == FRAME_SPIN and phase[PH_ELEVATOR + STICK_RUDDER] < 0.0
