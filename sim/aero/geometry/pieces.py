"""A flap that a file tells in pieces, as one of constant width on a tapered wing: it is one flap.

Pieces are controls of one channel on one surface whose ends meet.
"""

from sim.describe.geometry import Control, Surface

MEET_PCT = 0.5  # of the span: ends this near are one place (two roundings of a file)


def covered(control: Control, i: int, n: int) -> float:
    """Return the share [-] of strip ``i`` of ``n`` that a flap covers, nought or less if none.

    Geometry.
    """
    assert control.inner_pct is not None
    assert control.outer_pct is not None
    lo, hi = i / n, (i + 1) / n
    return (min(hi, control.outer_pct / 100.0) - max(lo, control.inner_pct / 100.0)) * n


def flap_on(surface: Surface, i: int) -> tuple[Control, float] | None:
    """Return the flap on strip ``i`` and the share [-] of it that it covers; None where none is.

    Of pieces that share a strip the chord is the mean, by what each covers; geometry.
    """
    n = surface.strips
    found = [(c, covered(c, i, n)) for c in surface.controls if c.kind == "flap"]
    found = [(c, cover) for c, cover in found if cover > 0.0]
    found = [(c, cover) for c, cover in found if c.channel == found[0][0].channel]
    if len(found) < 2:
        return found[0] if found else None
    cover = sum(x for _, x in found)
    pct = sum(x * (c.chord_pct or 0.0) for c, x in found) / cover
    return found[0][0].model_copy(update={"chord_pct": pct}), cover


def whole_flaps(surface: Surface) -> list[Control]:
    """Return a surface's controls, pieces that meet as one of their mean chord; geometry."""
    out: list[Control] = []
    for control in surface.controls:
        if out and _meet(out[-1], control):
            out[-1] = _joined(surface, out[-1], control)
        else:
            out.append(control)
    return out


def _meet(one: Control, other: Control) -> bool:
    """Return whether a flap goes on where another of its channel ends."""
    if one.channel != other.channel or one.outer_pct is None or other.inner_pct is None:
        return False
    return abs(one.outer_pct - other.inner_pct) <= MEET_PCT


def _joined(surface: Surface, one: Control, other: Control) -> Control:
    """Return two pieces as one, its chord [%] the mean by area; geometry."""
    areas = [_area(surface, x) for x in (one, other)]
    pct = sum(a * (x.chord_pct or 0.0) for a, x in zip(areas, (one, other), strict=True))
    return one.model_copy(
        update={"outer_pct": other.outer_pct, "chord_pct": pct / sum(areas)}
    )  # fmt: skip


def _area(surface: Surface, control: Control) -> float:
    """Return the area of the surface beside a flap [mm % of the span]; geometry."""
    inner, outer = control.inner_pct or 0.0, control.outer_pct or 0.0
    middle = 0.005 * (inner + outer)
    chord = surface.root_chord_mm + middle * (surface.tip_chord_mm - surface.root_chord_mm)
    return chord * (outer - inner)
