"""Where the numbers of a surface's table come from: measured, by formula, or beyond both."""

import numpy as np

from sim import tables
from sim.aero.geometry.effective import aspect_ratio_alone, mean_reynolds, unswept_aspect_ratio
from sim.aero.geometry.kinds import kind_of, section_share
from sim.aero.geometry.panels import aspect_ratio
from sim.describe.geometry import Surface


def origins(surface: Surface, speed: float) -> tuple[str, ...]:
    """Return sentences on where data end and formula begins in a surface's table.

    Parameters
    ----------
    surface : Surface
    speed : float
        Reference airspeed of its table [m/s].
    """
    if kind_of(surface) == "vortex":
        return _vortex(surface, speed)
    share = section_share(surface)
    if share == 0.0:
        return (*_droop(surface), *_plate(surface, speed))
    if share == 1.0:
        return (*_droop(surface), *_section(surface, speed))
    ratio, like = aspect_ratio(surface), 100.0 * share
    mixed = f"aspect ratio {ratio:.2f}: {like:.0f} % like a wing section, else like a flat plate"
    return (mixed, *_droop(surface), *_section(surface, speed), *_plate(surface, speed))


def _droop(surface: Surface) -> tuple[str, ...]:
    droop = surface.droop
    if droop is None:
        return ()
    return (
        f"leading edge {droop.down_deg:g} degrees down, {droop.chord_pct:g} % of the chord, from "
        f"{droop.inner_pct:g} to {droop.outer_pct:g} % of the panel: by thin-aerofoil theory",
    )


def _own_table(surface: Surface, reynolds: float) -> tuple[str, ...]:
    """Return what a section table covers, nothing if the surface names none."""
    table = surface.section.table
    if table is None:
        return ()
    seam = tables.section_model().seam_from_deg
    firsts = [-p.alpha_deg[-1] if table.one_sided else p.alpha_deg[0] for p in table.polars]
    low, high = max(-seam, *firsts), min(seam, *(p.alpha_deg[-1] for p in table.polars))
    said = f"section from file {table.file}, {low:g} to {high:g} degrees"
    known = [p.reynolds for p in table.polars if p.reynolds is not None]
    if known:
        ends = " to ".join(f"{end:.0f}" for end in sorted({known[0], known[-1]}))
        outside = "" if known[0] <= reynolds <= known[-1] else ": outside, the nearest end is used"
        said += f", Reynolds number {reynolds:.0f}; the file has {ends}{outside}"
    return (said, "beyond those angles:")


def _section(surface: Surface, speed: float) -> tuple[str, ...]:
    values = tables.section_model()
    reynolds = mean_reynolds(surface, speed)
    low, high = values.reynolds_lowest, values.reynolds_highest
    thickness = surface.section.thickness_pct
    lines = [
        f"measured NACA 0015 from {values.measured_from_deg:g} to 180 degrees; below "
        f"{values.seam_from_deg:g} a section code's, which stalls "
        f"{values.later_stall_deg:g} degree later here; joined between",
        f"Reynolds number {reynolds:.0f}; the table has {low:.0f} to {high:.0f}"
        + ("" if low <= reynolds <= high else ": outside, the nearest end is used"),
    ]
    if (thickness, surface.section.camber_pct) != (values.base_thickness_pct, 0.0):
        lines.append(
            f"{thickness:g} % thick, {surface.section.camber_pct:g} % camber: by formula from the "
            "NACA 0015"
        )
    lines.append(f"aspect ratio {aspect_ratio(surface):.1f} past the stall: by formula")
    return (*_own_table(surface, reynolds), *lines)


def _plate(surface: Surface, speed: float) -> tuple[str, ...]:
    columns = tables.eiffel_plates_inclined()
    measured = columns.aspect_ratio[np.isfinite(columns.at_alpha_deg)]
    ratio = unswept_aspect_ratio(surface)
    inside = measured.min() <= ratio <= measured.max()
    return (
        f"lift slope by formula, aspect ratio {ratio:.2f} with its body and sweep",
        f"shape to the peak from plates measured at aspect ratios {measured.min():g} to "
        f"{measured.max():g}" + ("" if inside else ": outside, the nearest is used"),
        "from the peak to 90 degrees by formula between measured values; backwards by formula",
    )


def _vortex(surface: Surface, speed: float) -> tuple[str, ...]:
    columns = tables.vortex_burst()
    recalled = tables.vortex_model().burst_recalled_from_deg
    sweep, most = surface.sweep_deg, float(columns.sweep_deg.max())
    inside = recalled <= sweep <= most
    return (
        f"suction analogy by an own lattice, aspect ratio {aspect_ratio_alone(surface):.2f}",
        f"burst of the vortex recalled for {recalled:g} to {most:g} degrees of sweep, here "
        f"{sweep:g}" + ("" if inside else ": outside, extrapolated"),
        "after burst a plate's force by formula between measured values",
    )
