"""Pictures that a command draws only if asked; no other run waits for the drawing library.

Hence the imports inside the functions.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sim.fly.flying import Flight
    from sim.gyro.advice import Advice
    from sim.gyro.allowed import Allowed
    from sim.pack.assemble import Assembled
    from sim.spin.mapped import Mapped
    from sim.trim.nozzle import NozzleSweep
    from sim.trim.performance import Performance


def draw_rotary(ready: Assembled, file: str) -> Path:
    """Draw coefficients against turn rate; return the path written."""
    from sim.show.drawing.canvas import save
    from sim.show.figures.rotary_curves import rotary_page

    return save(rotary_page(ready), file)


def draw_departure(ready: Assembled, file: str) -> Path:
    """Draw the departure criteria; return the path written."""
    from sim.show.drawing.canvas import save
    from sim.show.figures.departure_plane import departure_page

    return save(departure_page(ready), file)


def draw_spin_map(mapped: Mapped, file: str) -> Path:
    """Draw a map of steady spins; return the path written."""
    from sim.show.drawing.canvas import save
    from sim.show.figures.spin_map import spin_map_page

    return save(spin_map_page(mapped), file)


def draw_power(found: Performance, file: str) -> Path:
    """Draw thrust and current against speed; return the path written."""
    from sim.show.drawing.canvas import save
    from sim.show.figures.power_curves import power_page

    return save(power_page(found), file)


def draw_nozzles(found: Performance, sweep: NozzleSweep, file: str) -> Path:
    """Draw what nozzles do; return the path written."""
    from sim.show.drawing.canvas import save
    from sim.show.figures.nozzle_curves import nozzle_page

    return save(nozzle_page(found, sweep), file)


def draw_history(flight: Flight, file: str) -> Path:
    """Draw a flight over time; return the path written."""
    from matplotlib.figure import Figure

    from sim.show.drawing.canvas import save
    from sim.show.figures.time_history import draw_time_history

    figure = Figure(figsize=(9.0, 11.0), layout="constrained")
    draw_time_history(figure, flight)
    return save(figure, file)


def draw_path(flight: Flight, entry_m: float, floor_m: float, file: str) -> Path:
    """Draw a flight's path in space; return the path written."""
    from sim.show.drawing.canvas import save
    from sim.show.figures.flight_path import path_figure

    title = f"{flight.assembled.aeroplane.title}: {flight.manoeuvre.title}"
    return save(path_figure(flight, entry_m, floor_m, title), file)


def draw_gains(found: Allowed, advice: Advice, file: str) -> Path:
    """Draw what gain each axis stands against speed; return the path written."""
    from sim.show.drawing.canvas import save
    from sim.show.figures.gyro_gains import gyro_gains_page

    return save(gyro_gains_page(found, advice), file)
