"""What a surface is built from: sections, plates, or plates under leading-edge vortices."""

from sim import tables
from sim.aero.geometry.panels import aspect_ratio, half_chord_sweep, panels_of, upright
from sim.aero.sections.separated import smooth_step
from sim.describe.geometry import Surface


def kind_of(surface: Surface) -> str:
    """Return "vortex", "section" or "plate": how all or most of a surface's table is built."""
    if surface.leading_edge_vortex or surface.role == "strake":
        return "vortex"
    return "section" if section_share(surface) >= 0.5 else "plate"


def section_share(surface: Surface) -> float:
    """Return how much of a surface is built from sections, the rest of it from plates.

    0 for what stands or carries leading-edge vortices. A lying surface goes from 0 to 1 over
    the aspect ratios of strip_model.toml, smoothly, so that no rounding decides.
    """
    if surface.leading_edge_vortex or surface.role == "strake" or upright(surface):
        return 0.0
    low, high = tables.strip_model().section_aspect_ratios
    return float(smooth_step(aspect_ratio(surface), low, high))


def facing_sweep(surface: Surface) -> float:
    """Return the sweep of the line [rad] that the surface's strips face across.

    A section's quarter-chord line (simple sweep theory); the half-chord line of a plate or a
    surface under leading-edge vortices, whose rolling moment in sideslip then comes out about
    as DATCOM's [datcom1978] 5.1.2.1, which goes with half-chord sweep; none of a fin. Between
    section and plate, in between.
    """
    panel = panels_of(surface)[0]
    if upright(surface):
        return 0.0
    share = section_share(surface)
    return share * panel.quarter_sweep + (1.0 - share) * half_chord_sweep(panel)
