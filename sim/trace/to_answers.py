"""What was traced as answers of ``aftlimit start``: lengths from x, the wing's edge at the body."""

from sim.trace.frame import Untraceable
from sim.trace.outlines import Panel
from sim.trace.traced import Traced

ROLES = ("wing", "strake", "tail", "fin")
SCHEMA = "aftlimit.answers/1"


def answers_of(found: Traced) -> dict[str, float]:
    """Return the answers [mm] that a view gives.

    Raises
    ------
    Untraceable
        The wing's edge at the body was not clicked, or a surface is none that start asks for.
    """
    unknown = [name for name in found.panels if name not in ROLES]
    if unknown:
        text = f"is none that start asks for ({', '.join(ROLES)}); trace into an aeroplane file"
        raise Untraceable(f"surfaces.{unknown[0]}", text)
    return _from_above(found) if found.view == "top" else _from_side(found)


def _from_above(found: Traced) -> dict[str, float]:
    wing = found.panels.get("wing")
    if wing is None:
        raise Untraceable("surfaces.wing", "is needed: all lengths are from its edge at the body")
    if "fin" in found.panels:
        raise Untraceable("surfaces.fin", "is asked for as seen from the side")
    wing = wing.carried_to(wing.lead_out)  # a body that narrows slants the root
    x = wing.root_aft
    out = {"wing_span_mm": 2.0 * wing.tip_out} | _chords("wing", wing)
    if (strake := found.panels.get("strake")) is not None:
        out |= {"strake_length_mm": x - strake.root_aft,
                "strake_width_mm": strake.tip_out - strake.root_out}  # fmt: skip
    if (tail := found.panels.get("tail")) is not None:
        out |= {"tail_back_mm": tail.root_aft - x, "tail_span_mm": 2.0 * tail.tip_out}
        out |= _chords("tail", tail)
    return out | _body(found, x, "width")


def _from_side(found: Traced) -> dict[str, float]:
    if found.wing_root is None:
        raise Untraceable(
            "wing_root", "is needed: all lengths are from the wing's edge at the body"
        )
    x, height = found.wing_root
    lying = [name for name in found.panels if name != "fin"]
    if lying:
        raise Untraceable(f"surfaces.{lying[0]}", "is asked for as seen from above")
    middle = 0.0 if found.body is None else found.body.middle_at(x)
    out = {"wing_up_mm": height - middle}
    if found.tail_root is not None:
        out["tail_up_mm"] = found.tail_root[1] - middle
    if (fin := found.panels.get("fin")) is not None:
        out |= {"fin_back_mm": fin.root_aft - x, "fin_height_mm": fin.tip_out - fin.root_out}
        out |= _chords("fin", fin)
    return out | _body(found, x, "height")


def _chords(name: str, panel: Panel) -> dict[str, float]:
    return {
        f"{name}_root_chord_mm": panel.root_chord, f"{name}_tip_chord_mm": panel.tip_chord,
        f"{name}_tip_back_mm": panel.tip_aft - panel.root_aft,
    }  # fmt: skip


def _body(found: Traced, x: float, across: str) -> dict[str, float]:
    """Return nose, length, and the body's sizes half-way to the nose, at x and at the end."""
    out = {"nose_ahead_mm": x, "body_length_mm": found.length}
    if found.body is not None:
        at = {"front": 0.5 * x, "middle": x, "end": found.length}
        out |= {f"{place}_{across}_mm": found.body.size_at(aft) for place, aft in at.items()}
    return out
