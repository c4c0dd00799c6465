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
    "TunnelReference": "sim.fly.tunnel",
    "balance_scale": "sim.show.balance_scale",
    "assemble": "sim.fly.assemble",
    "coefficients": "sim.fly.coefficients",
    "criteria": "sim.fly.criteria",
    "departure_plane": "sim.show.departure_figures",
    "flight_path": "sim.show.path_figure",
    "fly_many": "sim.fly.flying",
    "fly_one": "sim.fly.flying",
    "forced_oscillation": "sim.fly.forced_oscillation",
    "gain_risk": "sim.show.gain_risk",
    "height_strips": "sim.show.figures",
    "level": "sim.fly.trimming",
    "load_aeroplane": "sim.describe",
    "load_manoeuvre": "sim.describe",
    "load_study_files": "sim.describe",
    "modes": "sim.fly.trimming",
    "neutral_point_pct": "sim.fly.trimming",
    "resolve_setup": "sim.describe",
    "rotary": "sim.fly.rotary",
    "rotary_curves": "sim.show.rotary_figures",
    "run_study": "sim.study",
    "share_by_balance": "sim.show.share_figures",
    "share_matrix": "sim.show.figures",
    "side_view": "sim.show.side_view",
    "spin_map": "sim.show.spin_map",
    "spin_overview": "sim.show.figures",
    "time_history": "sim.show.history",
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
