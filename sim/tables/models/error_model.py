"""How the build-up's own errors change with angle of attack: error_model.toml."""

from collections.abc import Iterator
from typing import Annotated, ClassVar, Self

import numpy as np
from pydantic import model_validator

from sim.core import error_layout as e
from sim.core.draw_layout import DRAW_COLUMNS, ERROR_NAMES
from sim.describe.faults import hint, refuse
from sim.describe.quantity import Listed, Text, between
from sim.tables.typed import Angle, Curve, Share, Signed, Table

# these turn over with the angle
TURNING = tuple(ERROR_NAMES[i] for i in (e.Y_NORMAL, e.Y_PITCH))


class ErrorModel(Table):
    """error_model.toml; ``least`` and ``shapes`` go by the names of draws."""

    CURVES: ClassVar = (("angles_deg",),)

    angles_deg: Curve
    most_turn_rate: Share
    least_fin_arm_spans: Share
    span_over_arm_without_fins: Annotated[float, between(1.0, 20.0)]
    attached_alpha_deg: Angle
    attached_turn_deg: Annotated[float, between(0.01, 10.0, "degrees")]
    attached_rate: Annotated[float, between(1e-4, 0.3)]
    trimmed_out: Listed[Text]
    least: dict[str, Signed]
    shapes: dict[str, Curve]

    @model_validator(mode="after")
    def _it_is_what_the_kernel_takes(self) -> Self:
        refuse(self._faults())
        return self

    def _faults(self) -> Iterator[tuple[str, str]]:
        angles = self.angles_deg
        if len(angles) != e.N_NODES or angles[0] != 0.0 or np.max(angles) >= 90.0:
            yield "angles_deg", f"must be {e.N_NODES} numbers that rise from 0, below 90"
        for name in self.shapes:
            if name not in ERROR_NAMES:
                yield (
                    f"shapes.{name}",
                    f"is no error; {hint(name, ERROR_NAMES, 'errors')}",
                )
        for name in ERROR_NAMES:
            shape = self.shapes.get(name, ())
            if len(shape) != e.N_NODES:
                yield f"shapes.{name}", f"must be {e.N_NODES} numbers; got {len(shape)}"
            elif name in TURNING and shape[0] != 0.0:
                text = f"must begin with 0, as it turns over with the angle; got {shape[0]:g}"
                yield f"shapes.{name}", text
        for key, names in (("trimmed_out", self.trimmed_out), ("least", tuple(self.least))):
            for name in names:
                if name not in DRAW_COLUMNS:
                    yield key, f"{name!r} is not a draw; {hint(name, DRAW_COLUMNS, 'draws')}"
