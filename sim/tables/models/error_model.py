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
    """error_model.toml; ``least``, ``shapes`` and ``from_above`` go by the names of draws."""

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
    from_above: dict[str, Curve]

    def signed_angles_deg(self) -> np.ndarray:
        """Return the angles of attack [deg] (N_NODES,) at which shapes have values, rising."""
        angles = np.array(self.angles_deg)
        return np.concatenate([-angles[:0:-1], angles])

    def whole_shape(self, name: str) -> np.ndarray:
        """Return the shape of an error (N_NODES,) at `signed_angles_deg`, in its sd."""
        return np.concatenate([self.from_above[name][::-1], self.shapes[name]])

    @model_validator(mode="after")
    def _it_is_what_the_kernel_takes(self) -> Self:
        refuse(self._faults())
        return self

    def _faults(self) -> Iterator[tuple[str, str]]:
        angles = self.angles_deg
        count = e.LEVEL_NODE + 1
        if len(angles) != count or angles[0] != 0.0 or np.max(angles) >= 90.0:
            yield "angles_deg", f"must be {count} numbers that rise from 0, below 90"
        for key, some, size in (
            ("shapes", self.shapes, count), ("from_above", self.from_above, count - 1),
        ):  # fmt: skip
            for name in some:
                if name not in ERROR_NAMES:
                    yield f"{key}.{name}", f"is no error; {hint(name, ERROR_NAMES, 'errors')}"
            for name in ERROR_NAMES:
                shape = some.get(name, ())
                if len(shape) != size:
                    yield f"{key}.{name}", f"must be {size} numbers; got {len(shape)}"
                elif key == "shapes" and name in TURNING and shape[0] != 0.0:
                    text = f"must begin with 0, as it turns over with the angle; got {shape[0]:g}"
                    yield f"{key}.{name}", text
        for key, names in (("trimmed_out", self.trimmed_out), ("least", tuple(self.least))):
            for name in names:
                if name not in DRAW_COLUMNS:
                    yield key, f"{name!r} is not a draw; {hint(name, DRAW_COLUMNS, 'draws')}"
