"""Leading-edge extensions keep the wing flying: A. M. Skow, G. E. Erickson (1982).

Extensions of 4.4 % of the wing's area raised the greatest lift of a light fighter by 38 %
(from memory). Here the display jet with its strakes cut down to that area, and without.
"""

from functools import lru_cache

import numpy as np
import pytest

from sim.core.steady.statics import polar
from sim.describe import load_aeroplane
from sim.pack.assemble import assemble
from tests.validation.rows import cases, check, each, relative

SOURCE = "skow1982"
AREA_SHARE = 0.044
SPEED, DENSITY = 15.0, 1.225


def smaller(strake, scale):
    """Return a strake shrunk about the end of its root."""
    end = strake.root_aft_mm + strake.root_chord_mm
    lengths = ("panel_span_mm", "root_chord_mm", "tip_chord_mm")
    changed = {name: scale * getattr(strake, name) for name in lengths}
    return strake.model_copy(update={**changed, "root_aft_mm": end - scale * strake.root_chord_mm})


@lru_cache
def greatest_lift(area_share):
    """Return the first maximum of CL up to 28°, strakes of a share of the wing's area."""
    jet = load_aeroplane("display_jet")
    area = assemble(jet, "club").weighed.reference.area_m2
    surfaces = []
    for surface in jet.surfaces:
        if surface.role != "strake":
            surfaces.append(surface)
        elif area_share > 0.0:
            own = 1e-6 * surface.panel_span_mm * (surface.root_chord_mm + surface.tip_chord_mm)
            surfaces.append(smaller(surface, np.sqrt(area_share * area / own)))
    names = [surface.name for surface in surfaces]
    kept = tuple(x for x in jet.airframe if x.of in names or x.of == "fuselage")
    changed = jet.model_copy(update={"surfaces": tuple(surfaces), "airframe": kept})
    alpha = np.radians(np.arange(0.0, 28.5, 0.5))
    n = alpha.size
    loads = polar(
        assemble(changed, "club").model, SPEED, alpha, np.zeros(n), np.zeros((n, 3)),
        np.zeros((n, 4)),
    )  # fmt: skip
    lift = (loads[:, 0] * np.sin(alpha) - loads[:, 2] * np.cos(alpha)) / (
        0.5 * DENSITY * SPEED**2 * area
    )
    return lift[int(np.argmax(lift[:-1] > lift[1:]))]


def rows():
    yield from each(SOURCE, "light fighter, 4.4 % of the wing's area; 40 % as a truth", [
        ("greatest lift with strakes over that without, less 1", 0.38,
         lambda: greatest_lift(AREA_SHARE) / greatest_lift(0.0) - 1.0)
    ], relative(0.40), "from memory", made_from="vortex_model.toml: help_deg")  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)
