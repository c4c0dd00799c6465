"""What an aeroplane file says of its tray, held against its body, its packs and its set-ups."""

from collections.abc import Iterator

from sim.describe.faults import Fault
from sim.describe.plain import Table, number, rows, table


def tray_faults(raw: Table) -> Iterator[Fault]:
    """Yield what is wrong with the tray: outside the bodies, or shorter than a pack."""
    yield from _inside_the_body(raw)
    front, rear = _ends(raw, None) or (0.0, 0.0)
    for name in table(raw, "packs") if table(raw, "tray").get("ends") == "edges" else ():
        length = number(table(raw, "packs", name), "length_mm")
        if length is not None and front < rear and length >= rear - front:
            text = f"must be less than the tray, {rear - front:g} mm from end to end"
            yield Fault(f"packs.{name}.length_mm", f"{text}; got {length:g}")


def _inside_the_body(raw: Table) -> Iterator[Fault]:
    stations = [row for body in rows(raw, "bodies") for row in rows(body, "stations")]
    places = [aft for aft in (number(row, "aft_mm") for row in stations) if aft is not None]
    if not places:
        return
    nose, end = min(places), max(places)
    inside = f"must lie inside a body, from {nose:g} to {end:g} mm"
    for key in ("front_aft_mm", "rear_aft_mm"):
        aft = number(table(raw, "tray"), key)
        if aft is not None and not nose <= aft <= end:
            yield Fault(f"tray.{key}", f"{inside}; got {aft:g}")


def off_the_tray(block: Table, path: str, aeroplane: Table) -> Iterator[Fault]:
    """Yield a pack's place in a set-up that its tray does not reach."""
    ends, place = _ends(aeroplane, _pack_of(block, aeroplane)), number(block, "pack_aft_mm")
    if place is None or ends is None or ends[0] >= ends[1]:
        return
    front, rear = ends
    if not front <= place <= rear:
        text = f"must lie on the tray, from {front:g} to {rear:g} mm; got {place:g}"
        yield Fault(f"{path}.pack_aft_mm", text)


def _pack_of(block: Table, aeroplane: Table) -> object:
    """Return the pack that a set-up names, or the one it is like; None where neither does."""
    setups = table(aeroplane, "setups")
    for _ in range(len(setups) + 1):
        if "pack" in block:
            return block["pack"]
        block = table(setups, str(block.get("like")))
    return None


def _ends(aeroplane: Table, pack: object) -> tuple[float, float] | None:
    """Return from where to where [mm aft] a pack's centre may lie; of none, any part of it."""
    tray = table(aeroplane, "tray")
    front, rear = number(tray, "front_aft_mm"), number(tray, "rear_aft_mm")
    if front is None or rear is None:
        return None
    length = number(table(aeroplane, "packs", pack), "length_mm") if isinstance(pack, str) else None
    half = 0.5 * (length or 0.0) if tray.get("ends") == "edges" else 0.0
    return front + half, rear - half
