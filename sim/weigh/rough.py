"""A rough neutral point from a few lengths: to tell a slip, never to fly by.

Lengths in mm, aft of the leading edge of the wing's root; handbook slopes of wing, strakes and
tailplane, and the body's free moment. `sim.trim` has the real one.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import atan, cos, pi, sqrt


@dataclass(frozen=True)
class Plane:
    """A lying surface: area [mm²], aspect ratio, mean chord [mm] and its leading edge [mm aft]."""

    area: float
    aspect: float
    chord: float
    edge: float
    sweep: float  # of the leading edge, tangent
    taper: float

    @property
    def slope(self) -> float:
        """Lift slope [1/rad]: DATCOM's, [datcom1978] 4.1.3.2, from memory."""
        a = self.aspect
        return 2.0 * pi * a / (2.0 + sqrt(4.0 + a**2 * (1.0 + self.sweep**2)))

    @property
    def centre(self) -> float:
        """Where its lift acts [mm aft].

        Own: a quarter of the mean chord, and towards half of it as the surface grows slender,
        swept and pointed, the limit of slender wings ([munk1924]'s bodies spread out).
        """
        slender = (1.0 - self.taper) * self.sweep / (self.sweep + self.aspect)
        return self.edge + (0.25 + 0.25 * max(slender, 0.0)) * self.chord


def trapezoid(
    span: float, root: float, tip: float, tip_back: float, inner: float, back: float
) -> Plane:
    """Return a straight-tapered surface [mm], its root chord carried on inside ``inner``.

    Geometry: as `sim.weigh.reference`.
    """
    half = max(0.5 * span - inner, 1.0)
    area = half * (root + tip) / 2.0 + inner * root
    square = half * (root**2 + root * tip + tip**2) / 3.0 + inner * root**2
    edge = half * tip_back * (root + 2.0 * tip) / 6.0
    return Plane(
        2.0 * area,
        span**2 / (2.0 * area),
        square / area,
        back + edge / area,
        tip_back / half,
        tip / root,
    )


def wing_of(v: Mapping[str, float]) -> Plane:
    """Return the wing from its facts [mm]; geometry."""
    return trapezoid(
        v["wing_span_mm"], v["wing_root_chord_mm"], v["wing_tip_chord_mm"], v["wing_tip_back_mm"],
        v.get("wing_inner_mm", 0.0), 0.0,
    )  # fmt: skip


def static_margin_pct(v: Mapping[str, float]) -> float:
    """Return a rough static margin [% of the mean chord].

    Parameters
    ----------
    v : mapping
        Facts as `sim.weigh.slips` has them; strake, tail and body where there are any.

    Own: wing and strakes at their centres ([polhamus1966] says of a slender one half its
    length), the tailplane with 1 - 2 a/(pi A) of its air turned, [nelson1998] from memory; the
    body's free moment is that of a slender one, 2 x volume [munk1924].
    """
    wing = wing_of(v)
    lift, moment = wing.slope * wing.area, wing.slope * wing.area * wing.centre
    if "strake_length_mm" in v:
        length, width = v["strake_length_mm"], v["strake_width_mm"]
        area = length * width
        aspect = (2.0 * width) ** 2 / area
        force = 0.5 * pi * aspect * area / max(cos(atan(wing.sweep)), 0.3)
        lift += force
        moment -= force * 0.33 * length
    if "tail_span_mm" in v:
        tail = trapezoid(
            v["tail_span_mm"], v["tail_root_chord_mm"], v["tail_tip_chord_mm"],
            v["tail_tip_back_mm"], v.get("tail_inner_mm", 0.0), v["tail_back_mm"],
        )  # fmt: skip
        force = tail.slope * tail.area * (1.0 - 2.0 * wing.slope / (pi * wing.aspect))
        lift += force
        moment += force * tail.centre
    if "body_length_mm" in v:
        width = v["middle_width_mm"]
        volume = 0.5 * v["body_length_mm"] * width * v.get("middle_height_mm", width)
        moment -= 2.0 * volume
    return 100.0 * (moment / lift - v["balance_back_mm"]) / wing.chord


def sweep_deg(v: Mapping[str, float]) -> float:
    """Return the sweep of the wing's leading edge [deg]; geometry."""
    return atan(wing_of(v).sweep) * 180.0 / pi


def on_its_chord(v: Mapping[str, float]) -> bool:
    """Return whether it balances over its wing's mean chord: odd maybe, and no slip that is seen.

    Own: from one end of the chord or the other, almost any place on it would look as usual; one
    that may be so is measured again, not guessed.
    """
    if not {"wing_span_mm", "wing_root_chord_mm", "wing_tip_chord_mm", "wing_tip_back_mm",
            "balance_back_mm"} <= v.keys():  # fmt: skip
        return False
    wing = wing_of(v)
    return wing.edge < v["balance_back_mm"] < wing.edge + wing.chord


def in_its_body(v: Mapping[str, float]) -> bool:
    """Return whether it balances inside its body, as far as that is known; geometry."""
    ahead, length = v.get("datum_behind_nose_mm"), v.get("body_length_mm")
    at = v.get("balance_back_mm")
    return ahead is None or length is None or at is None or -ahead < at < length - ahead
