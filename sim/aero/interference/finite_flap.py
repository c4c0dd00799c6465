"""What finite span does to a flap: it turns a short wing more than a section.

The load of a flap lies aft, and on a finite wing the flow that the load makes bends along the
chord; less of the wing ahead undoes the flap than on a section. In the limit of no span, slender
wing theory, lift goes with the angle of the trailing edge alone [jones1946]. DATCOM [datcom1978]
6.1.4.1 has it as the ratio of flap effectiveness, wing over section; here it is the lattice's, for
the plan form at hand. Ailerons load each half as a wing of half the aspect ratio, so on them it
is more.
"""

from collections.abc import Callable
from functools import lru_cache
from math import tan

from sim.aero.geometry.effective import slope_aspect_ratio
from sim.aero.geometry.lattice import Planform, trapezoid
from sim.aero.geometry.lattice_flap import flap_at_edge, flap_turn
from sim.aero.geometry.panels import MM, Panel, panels_of, upright
from sim.describe.controls import Shares
from sim.describe.geometry import Control, Surface


def finite_flap(surface: Surface, control: Control, stick: Shares) -> float:
    """Return by how much more a control turns its part of a surface than thin-aerofoil theory says.

    A ratio [-] by the lattice, in place of [datcom1978] 6.1.4.1.

    Parameters
    ----------
    surface : Surface
    control : Control
        One of its own; 1 where all of the surface moves.
    stick : Shares
        What moves it: with the aileron stick the two sides go against each other. One that both
        elevator and ailerons move has the mean of the two, by their shares.
    """
    return _compared(flap_turn, surface, control, stick)


def finite_edge(surface: Surface, control: Control, stick: Shares) -> float:
    """Return how much of a section's a flap's effect at the leading edge is on a finite wing [-].

    Own, by the lattice: what a flap does to the suction at the leading edge ahead of it, and so to
    the stall that begins there, is next to nothing on a short wing: there the flow ahead does not
    know of the flap, as in slender wing theory [jones1946]. Parameters as `finite_flap`.
    """
    return _compared(flap_at_edge, surface, control, stick)


def _compared(
    of_lattice: Callable[[Planform, float, tuple[float, float], bool], float],
    surface: Surface, control: Control, stick: Shares,
) -> float:  # fmt: skip
    """Return what the lattice says of a control over a section, 1 where all moves [-]; own."""
    if control.kind == "all_moving":
        return 1.0
    assert control.chord_pct is not None
    assert control.inner_pct is not None
    assert control.outer_pct is not None
    panel = panels_of(surface)[0]
    gap = 0.0 if upright(surface) else surface.root_right_mm * MM
    tip = gap + panel.span
    inner, outer = (
        round((gap + 0.01 * share * panel.span) / tip, 4)
        for share in (control.inner_pct, control.outer_pct)
    )
    shape = _carried(panel, gap) if gap > 0.0 else _alone(surface, panel)
    together = 1.0 if upright(surface) or not surface.mirrored else together_share(stick)
    out = 0.0
    for rolling, share in ((False, together), (True, 1.0 - together)):
        if share > 0.0:
            out += share * _kept(
                of_lattice, shape, 0.01 * control.chord_pct, (inner, outer), rolling
            )
    return out


@lru_cache(maxsize=512)
def _kept(
    of_lattice: Callable[[Planform, float, tuple[float, float], bool], float],
    shape: Planform, chord_share: float, span: tuple[float, float], rolling: bool,
) -> float:  # fmt: skip
    """Return what the lattice says [-], once for each plan form [katz2001]."""
    return of_lattice(shape, chord_share, span, rolling)


def together_share(stick: Shares) -> float:
    """Return how much of a control's travel [-] is the same on both sides; by definition."""
    same = abs(stick.elevator) + abs(stick.rudder)
    return same / (same + abs(stick.aileron)) if same or stick.aileron else 1.0


def _carried(panel: Panel, gap: float) -> Planform:
    """Return a lying surface's half plan form [m], carried through to the centreline; geometry."""
    tip = gap + panel.span
    return _rounded(
        (0.0, gap, tip), (0.0, 0.0, panel.span * tan(panel.sweep)),
        (panel.root_chord, panel.root_chord, panel.tip_chord),
    )  # fmt: skip


def _alone(surface: Surface, panel: Panel) -> Planform:
    """Return a surface's half plan form [m]; geometry.

    A fin's is as long as its body's end plate makes it [whicker1958].
    """
    span = panel.span
    if upright(surface):
        span = 0.25 * slope_aspect_ratio(surface) * (panel.root_chord + panel.tip_chord)
    return _rounded(*trapezoid(span, panel.root_chord, panel.tip_chord, panel.sweep))


def _rounded(*parts: tuple[float, ...]) -> Planform:
    """Return a plan form whose numbers differ from others' by more than rounding."""
    return Planform(*(tuple(round(float(x), 5) for x in part) for part in parts))
