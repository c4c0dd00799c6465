"""What a set-up's tail and masses say of spins, as information beside the trim."""

from sim.show.console.console import Tables, add, notes, table
from sim.spin.scale import Scale
from sim.spin.tail_damping import TailDamping
from sim.units.quantities import CONTROL_AREA

NO_VERDICT = (
    "Never a verdict: in NASA's test of nine tails in 1977 (TP-1009) this factor called six good "
    "for recovery, and four were."
)
LOADING = (
    "Mass loading below 0: more mass along the fuselage than along the wing. About neutral, "
    "rudder is what stops a spin; far below 0, aileron with the spin counts more."
)


def tail_tables(tail: TailDamping | None, scale: Scale) -> Tables:
    """Return the tail-damping power factor and the scale numbers of a set-up."""
    out = table("Tail and masses in a spin (information only)", "what", "value")
    for name, value in _tail_rows(tail):
        add(out, name, value)
    add(out, "relative density, m/(rho S b)", f"{scale.relative_density:.1f}")
    add(out, "mass loading, (Ix - Iy)/(m b2)", f"{1e4 * scale.mass_loading:+.0f} e-4")
    return [out, *notes([NO_VERDICT, LOADING] if tail is not None else [LOADING])]


def _area(area_m2: float) -> str:
    return f"{CONTROL_AREA.figure(1e4 * area_m2)} {CONTROL_AREA.plain}"


def _tail_rows(tail: TailDamping | None) -> list[tuple[str, str]]:
    if tail is None:
        return [("tail-damping power factor", "none: it needs a tailplane and a rudder")]
    openly = tail.open_above_m2 + tail.open_below_m2
    rudder = f"{CONTROL_AREA.figure(1e4 * openly)} of {_area(tail.rudder_m2)}"
    return [
        ("body's side under the tailplane", _area(tail.side_area_m2)),
        ("rudder outside the tailplane's wake at 45 deg", rudder),
        ("tail-damping ratio", f"{tail.damping_ratio:.5f}"),
        ("unshielded-rudder volume", f"{tail.rudder_volume:.5f}"),
        ("tail-damping power factor, their product", f"{1e6 * tail.power_factor:.0f} e-6"),
    ]
