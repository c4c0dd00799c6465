"""What a pilot could still measure of an aeroplane, and how much narrower its draws were then.

The jobs at the bench stand in measuring.toml. What one is promised to do is what the aeroplane's
file does with it: its keys struck from ``assumed`` and ``from_box``, its ruler's own error under
``[uncertainty]``.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sim import tables
from sim.describe import Aeroplane
from sim.describe.known import AIRFRAME, by_role, covers
from sim.describe.masses import AirframeShare, Measured
from sim.pack.known import known_spread
from sim.pack.spreads import drawn_spreads
from sim.tables.models.measuring import Measurable
from sim.tables.models.uncertainty import Spread


@dataclass(frozen=True)
class Narrowed:
    """A draw's standard deviation, as it is and as a measurement leaves it, in the draw's unit."""

    draw: str
    unit: str
    now: float
    then: float


@dataclass(frozen=True)
class Measurement:
    """Something of an aeroplane that was not measured, or could be measured better.

    ``assumed``: nobody measured it; else it was, with the usual error. ``keys`` are those of its
    lists that become known.
    """

    name: str
    text: str
    measure: str
    assumed: bool
    keys: tuple[str, ...]
    narrowed: tuple[Narrowed, ...]


def measurements(aeroplane: Aeroplane, said: Measured | None = None) -> tuple[Measurement, ...]:
    """Return all that measuring would narrow, in the order of measuring.toml.

    Parameters
    ----------
    aeroplane : Aeroplane
        Its power fitted, so that what was measured of it counts.
    said : Measured, optional
        ``[measured]`` of its file, which a fitted one no longer has whole: jobs done are left out.

    Raises
    ------
    FileFault
        See `spreads_of`.
    """
    now = {x.name: x for x in drawn_spreads(aeroplane)}
    out = []
    for entry in tables.measuring().entries:
        if (
            entry.made
            and said is not None
            and all(
                said.has(key) and f"measured.{key}" not in aeroplane.from_box for key in entry.made
            )
        ):
            continue
        keys = _keys(aeroplane, entry)
        then = _then(aeroplane, entry, keys, now)
        narrowed = tuple(
            Narrowed(name, now[name].unit, now[name].sd, sd)
            for name, sd in then.items()
            if sd < now[name].sd
        )
        if narrowed:
            assumed = bool(keys) or _by_kind(aeroplane, narrowed)
            told = entry.name, entry.text, entry.measure
            out.append(Measurement(*told, assumed, keys, narrowed))
    return tuple(out)


def as_if_measured(aeroplane: Aeroplane, measurement: Measurement) -> Aeroplane:
    """Return an aeroplane with a measurement made, and all values come out as they stand."""
    sds = {x.draw: x.then for x in measurement.narrowed}
    return aeroplane.model_copy(update={"uncertainty": {**aeroplane.uncertainty, **sds}})


def entries_that_tell(path: Sequence[str]) -> list[Measurable]:
    """Return the entries of measuring.toml that make a key known, its surface by its role.

    Those that name it just so where there are any, else those that name a part of it or what
    holds it.
    """
    found = [
        (entry, pattern)
        for entry in tables.measuring().entries
        for pattern in (key.split(".") for key in entry.keys)
        if covers(pattern, path)
    ]
    just_so = [entry for entry, pattern in found if len(pattern) == len(path)]
    return just_so or [entry for entry, _ in found]


def _keys(aeroplane: Aeroplane, entry: Measurable) -> tuple[str, ...]:
    """Return the keys of an aeroplane's lists that a measurement makes known."""
    roles = {surface.name: surface.role for surface in aeroplane.surfaces}
    listed = (*aeroplane.assumed, *aeroplane.from_box)
    if not aeroplane.airframe and AIRFRAME not in listed:
        listed = (*listed, AIRFRAME)
    return tuple(
        key for key in listed if entry in entries_that_tell(by_role(key, roles).split("."))
    )


def _then(
    aeroplane: Aeroplane, entry: Measurable, keys: tuple[str, ...], now: Mapping[str, Spread]
) -> dict[str, float]:
    """Return the standard deviations of draws after a measurement, by name.

    A swing that was made before narrows nothing more.
    """
    lists = {"assumed": aeroplane.assumed, "from_box": aeroplane.from_box}
    update: dict[str, object] = {
        name: tuple(x for x in old if x not in keys) for name, old in lists.items()
    }
    if AIRFRAME in keys:  # its parts are listed then, whatever they weigh
        update["airframe"] = (AirframeShare(of=aeroplane.surfaces[0].name, mass_g=1.0),)
    measured = aeroplane.model_copy(update=update)
    own = set(aeroplane.uncertainty)
    usual = {x.name: x for x in tables.uncertainty().entries}
    then = {
        name: min(spread.sd, known_spread(measured, usual[name]).sd)
        for name, spread in now.items()
        if keys and name not in own
    }
    for narrowing in tables.assumed().narrowing:
        if narrowing.key == entry.swing:
            then[narrowing.draw] = min(narrowing.sd, now[narrowing.draw].sd)
    for name, sd in entry.leaves.items():
        then[name] = min(sd, then.get(name, now[name].sd))
    return then


def _by_kind(aeroplane: Aeroplane, narrowed: tuple[Narrowed, ...]) -> bool:
    """Return True if masses are spread by kind and a draw is wider for it."""
    if aeroplane.airframe and AIRFRAME not in aeroplane.assumed:
        return False
    by_kind = {x.draw for x in tables.assumed().widening if AIRFRAME in x.keys}
    return any(x.draw in by_kind for x in narrowed)
