"""aftlimit: will this aeroplane depart or spin, and does it come back?

    >>> import sim
    >>> jet = sim.load_aeroplane("display_jet")
    >>> ready = sim.assemble(jet, "club")
    >>> entry, recovery = sim.load_manoeuvre("spin_entry"), sim.load_recovery("centre_sticks")
    >>> flight = sim.fly_one(ready, entry, recovery)
    >>> columns = flight.to_columns()
    >>> float(columns["alpha_deg"].max()) > 45.0  # degrees: it spins
    True

What ``dir(sim)`` shows is the whole of what a notebook needs. Names are looked up when first
used, so that importing the package costs nothing; type checkers read the imports below.
"""

from importlib import import_module

from sim.version import __version__ as __version__

TYPE_CHECKING = False  # type checkers know the name; importing typing for it takes 10 ms

if TYPE_CHECKING:
    from sim.describe import Aeroplane as Aeroplane
    from sim.describe import FileFault as FileFault
    from sim.describe import Manoeuvre as Manoeuvre
    from sim.describe import Recovery as Recovery
    from sim.describe import load_aeroplane as load_aeroplane
    from sim.describe import load_manoeuvre as load_manoeuvre
    from sim.describe import load_recovery as load_recovery
    from sim.describe import load_study_files as load_study_files
    from sim.describe import resolve_setup as resolve_setup
    from sim.fly.columns import summary_columns as summary_columns
    from sim.fly.flying import Flight as Flight
    from sim.fly.flying import fly_many as fly_many
    from sim.fly.flying import fly_one as fly_one
    from sim.fly.tunnel.coefficients import coefficients as coefficients
    from sim.fly.tunnel.forced_oscillation import forced_oscillation as forced_oscillation
    from sim.fly.tunnel.reference import TunnelReference as TunnelReference
    from sim.pack.assemble import Assembled as Assembled
    from sim.pack.assemble import assemble as assemble
    from sim.pack.assemble import flown_spreads as flown_spreads
    from sim.show.figures.balance_scale import draw_balance_scale as draw_balance_scale
    from sim.show.figures.departure_plane import draw_departure_plane as draw_departure_plane
    from sim.show.figures.flight_path import draw_flight_path as draw_flight_path
    from sim.show.figures.gain_risk import draw_gain_risk as draw_gain_risk
    from sim.show.figures.rotary_curves import draw_rotary_curves as draw_rotary_curves
    from sim.show.figures.share_by_balance import draw_share_by_balance as draw_share_by_balance
    from sim.show.figures.side_view import draw_side_view as draw_side_view
    from sim.show.figures.spin_map import draw_spin_map as draw_spin_map
    from sim.show.figures.study_figures import draw_height_strips as draw_height_strips
    from sim.show.figures.study_figures import draw_share_matrix as draw_share_matrix
    from sim.show.figures.study_figures import draw_spin_overview as draw_spin_overview
    from sim.show.figures.time_history import draw_time_history as draw_time_history
    from sim.spin.mapped import spin_map as spin_map
    from sim.spin.rotary import rotary as rotary
    from sim.study import run_study as run_study
    from sim.study.flights.draws import make_draws as make_draws
    from sim.study.results.result import StudyResult as StudyResult
    from sim.trim.criteria import criteria as criteria
    from sim.trim.trimming import level as level
    from sim.trim.trimming import modes as modes
    from sim.trim.trimming import neutral_point_pct as neutral_point_pct
    from sim.units.quantities import using_units as using_units
    from sim.weigh import weigh_set_up as weigh_set_up
else:
    # the same names for running programs; a test holds the two lists against each other
    _HOMES = {
        "sim.describe": (
            "Aeroplane", "FileFault", "Manoeuvre", "Recovery", "load_aeroplane",
            "load_manoeuvre", "load_recovery", "load_study_files", "resolve_setup",
        ),
        "sim.fly.columns": ("summary_columns",),
        "sim.fly.flying": ("Flight", "fly_many", "fly_one"),
        "sim.fly.tunnel.coefficients": ("coefficients",),
        "sim.fly.tunnel.forced_oscillation": ("forced_oscillation",),
        "sim.fly.tunnel.reference": ("TunnelReference",),
        "sim.pack.assemble": ("Assembled", "assemble", "flown_spreads"),
        "sim.show.figures.balance_scale": ("draw_balance_scale",),
        "sim.show.figures.departure_plane": ("draw_departure_plane",),
        "sim.show.figures.flight_path": ("draw_flight_path",),
        "sim.show.figures.gain_risk": ("draw_gain_risk",),
        "sim.show.figures.rotary_curves": ("draw_rotary_curves",),
        "sim.show.figures.share_by_balance": ("draw_share_by_balance",),
        "sim.show.figures.side_view": ("draw_side_view",),
        "sim.show.figures.spin_map": ("draw_spin_map",),
        "sim.show.figures.study_figures": (
            "draw_height_strips", "draw_share_matrix", "draw_spin_overview",
        ),
        "sim.show.figures.time_history": ("draw_time_history",),
        "sim.spin.mapped": ("spin_map",),
        "sim.spin.rotary": ("rotary",),
        "sim.study": ("run_study",),
        "sim.study.flights.draws": ("make_draws",),
        "sim.study.results.result": ("StudyResult",),
        "sim.trim.criteria": ("criteria",),
        "sim.trim.trimming": ("level", "modes", "neutral_point_pct"),
        "sim.units.quantities": ("using_units",),
        "sim.weigh": ("weigh_set_up",),
    }  # fmt: skip
    _HOME = {name: module for module, names in _HOMES.items() for name in names}

    def __getattr__(name: str) -> object:
        """Return a public name from its home module (PEP 562)."""
        if name not in _HOME:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        return getattr(import_module(_HOME[name]), name)

    def __dir__() -> list[str]:
        """Return the public names."""
        return ["__version__", *sorted(_HOME)]
