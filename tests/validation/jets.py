"""The bundled aeroplanes, assembled once for all checks."""

from functools import lru_cache

from sim.describe import SetUpBlock, load_aeroplane
from sim.pack.assemble import Assembled, assemble


@lru_cache
def first_setup(name: str) -> Assembled:
    """Return an aeroplane in its first set-up."""
    return assemble(load_aeroplane(name))


@lru_cache
def jet_at(aft_mm: float) -> Assembled:
    """Return the display jet with a 4000 mAh pack and a balance point [mm aft]."""
    block = SetUpBlock(pack="6s_4000", balance_aft_mm=aft_mm)
    return assemble(load_aeroplane("display_jet"), block)
