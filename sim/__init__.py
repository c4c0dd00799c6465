"""aftlimit: will this aeroplane depart or spin, and does it come back?

    >>> import sim
    >>> jet = sim.load_aeroplane("display_jet")
    >>> ready = sim.assemble(jet, "club")
    >>> entry, out = sim.load_manoeuvre("spin_entry"), sim.load_manoeuvre("centre_sticks")
    >>> flight = sim.fly_one(ready, entry, out)

Names are looked up when first used, so that importing the package costs nothing.
"""

from importlib import import_module
from typing import Any

__version__ = "0.1.0"

_HOMES = {
    "FileFault": "sim.describe",
    "TunnelReference": "sim.fly.tunnel.reference",
    "balance_scale": "sim.show.figures.balance_scale",
    "assemble": "sim.pack.assemble",
    "coefficients": "sim.fly.tunnel.coefficients",
    "criteria": "sim.trim.criteria",
    "departure_plane": "sim.show.figures.departure_plane",
    "flight_path": "sim.show.figures.flight_path",
    "fly_many": "sim.fly.flying",
    "fly_one": "sim.fly.flying",
    "forced_oscillation": "sim.fly.tunnel.forced_oscillation",
    "gain_risk": "sim.show.figures.gain_risk",
    "height_strips": "sim.show.figures.study_figures",
    "level": "sim.trim.trimming",
    "load_aeroplane": "sim.describe",
    "load_manoeuvre": "sim.describe",
    "load_study_files": "sim.describe",
    "modes": "sim.trim.trimming",
    "neutral_point_pct": "sim.trim.trimming",
    "resolve_setup": "sim.describe",
    "rotary": "sim.spin.rotary",
    "rotary_curves": "sim.show.figures.rotary_curves",
    "run_study": "sim.study",
    "share_by_balance": "sim.show.figures.share_by_balance",
    "share_matrix": "sim.show.figures.study_figures",
    "side_view": "sim.show.figures.side_view",
    "spin_map": "sim.show.figures.spin_map",
    "spin_overview": "sim.show.figures.study_figures",
    "time_history": "sim.show.figures.time_history",
    "weigh_set_up": "sim.weigh",
}

# some have a name of their own here, because a folder already has the short one
_INSIDE = {"fly_one": "fly", "spin_map": "draw_spin_map", "weigh_set_up": "weigh"}

__all__ = ["__version__", *sorted(_HOMES)]


def __getattr__(name: str) -> Any:
    """Return a public name from its home module (PEP 562)."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), _INSIDE.get(name, name))


def __dir__() -> list[str]:
    """Return the public names."""
    return __all__
