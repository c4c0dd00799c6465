"""The curves of L. A. Viterna, R. D. Corrigan (1981), evaluated by an independent script."""

import numpy as np
import pytest

from sim.aero.sections.separated import StallPoint, viterna_corrigan, viterna_drag_at_90
from tests.validation.rows import absolute, cases, check, each

SOURCE = "viterna1981"

# aspect ratio, stall angle, CL and CD at the stall: alpha, CL, CD
CASES = {
    (10, 15, 1.2, 0.02): [
        (20, 1.04306, 0.08629), (30, 0.92372, 0.26296), (45, 0.81712, 0.59638),
        (60, 0.62886, 0.93312), (90, 0.0, 1.29),
    ],
    (5, 12, 0.9, 0.05): [
        (20, 0.75369, 0.13857), (30, 0.73343, 0.29834), (45, 0.70079, 0.59865),
        (60, 0.56076, 0.89904), (90, 0.0, 1.20),
    ],
}  # fmt: skip


def ours(case, degrees):
    """Return CL and CD."""
    aspect_ratio, stall_deg, stall_lift, stall_drag = case
    stall = StallPoint(np.radians(stall_deg), stall_lift, stall_drag)
    return viterna_corrigan(np.radians(degrees), viterna_drag_at_90(aspect_ratio), stall)


def rows():
    for case, printed in CASES.items():
        where = "stall at {1}° with CL {2}, CD {3}".format(*case)
        for i, name in enumerate(("CL", "CD")):
            yield from each(SOURCE, where, (
                (f"blade of aspect ratio {case[0]}: {name} at {line[0]}°", line[1 + i],
                 lambda case=case, a=line[0], i=i: ours(case, a)[i])
                for line in printed
            ), absolute(1e-5), "computed")  # fmt: skip
    yield from each(SOURCE, "CDmax = 1.11 + 0.018 AR, as a section-data page quotes it", [
        ("CD across the flow at aspect ratio 50", 2.01, lambda: viterna_drag_at_90(50.0)),
    ], absolute(1e-12), "published")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
