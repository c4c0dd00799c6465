"""Power: fans or propellers, motors and packs, packed for the kernel."""

from sim.power.operating_point import OperatingPoint, operating_point
from sim.power.packing import PowerArrays, about, pack_power

__all__ = ["OperatingPoint", "PowerArrays", "about", "operating_point", "pack_power"]
