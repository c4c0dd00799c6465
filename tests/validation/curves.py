"""Reading the strip tables of the product at an angle of attack."""

from functools import lru_cache

import numpy as np

from sim.aero.sections.aerofoil import section_table
from sim.aero.sections.base_section import Edge
from sim.core.loads.lookup import CC, CN, alpha_of_coordinate, grid

ALPHA_DEG = np.degrees(alpha_of_coordinate(grid()))


def at(table, degrees, column):
    return np.interp(degrees, ALPHA_DEG, table[:, column])


def lift(table, degrees):
    radians = np.radians(degrees)
    return at(table, degrees, CN) * np.cos(radians) + at(table, degrees, CC) * np.sin(radians)


def drag(table, degrees):
    radians = np.radians(degrees)
    return at(table, degrees, CN) * np.sin(radians) - at(table, degrees, CC) * np.cos(radians)


@lru_cache
def symmetric(
    thickness_pct: float, reynolds: float, aspect_ratio: float = np.inf, edge: Edge = "round"
) -> np.ndarray:
    """Return the table of a section without camber."""
    return section_table(thickness_pct, 0.0, edge, reynolds, aspect_ratio)


def naca0015(reynolds: float, aspect_ratio: float = np.inf) -> np.ndarray:
    return symmetric(15.0, reynolds, aspect_ratio)
