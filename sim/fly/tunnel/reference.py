"""An aeroplane on the sting of a wind tunnel: lengths, deflections and draws as arrays."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import radians

import numpy as np
from numpy.typing import NDArray

from sim.aero.geometry.panels import MM, normal_of, panels_of, upright
from sim.core import draw_layout as d
from sim.core.flights.perturb import moved, perturbed
from sim.core.layout import V_OFFSET, Model
from sim.core.loads.strip_air import SLOWEST
from sim.describe import Aeroplane, SetUp, SetUpBlock, load_aeroplane
from sim.describe.controls import FLAP
from sim.describe.faults import hint
from sim.fly.columns import Floats
from sim.pack.assemble import Assembled, assemble, reference_speed

# a number, a list of them, or an array
Numbers = float | Sequence[float] | Sequence[Sequence[float]] | Floats | NDArray[np.int64]
SIDES = {"right": 1.0, "left": -1.0}
# the point that moments are about is given, so a draw does not move it
NOT_DRAWN = (d.D_BALANCE_AFT, d.D_BALANCE_RIGHT, d.D_BALANCE_UP)


@dataclass(frozen=True)
class TunnelReference:
    """What coefficients are referred to; None takes the aeroplane's own.

    Parameters
    ----------
    aft_mm, up_mm : float, optional
        Point that moments are about and the model turns about, from the datum; the balance
        point where not given.
    area_m2, span_m, chord_m : float, optional
        Wing area, span (of rolling and yawing moment, pb/2V, rb/2V) and mean chord (of
        pitching moment, qc/2V).
    """

    aft_mm: float | None = None
    up_mm: float | None = None
    area_m2: float | None = None
    span_m: float | None = None
    chord_m: float | None = None


@dataclass(frozen=True)
class Mounted:
    """A model on a sting: its origin is the point that moments are about.

    ``models`` are the nominal one, or one a draw where ``drawn``. ``push`` is dynamic
    pressure times area [N].
    """

    assembled: Assembled
    models: tuple[Model, ...]
    drawn: bool
    speed: float
    push: float
    span: float
    chord: float

    def coefficients(self, loads: Floats) -> Floats:
        """Return loads (..., 6) [N, N m] over push and length; coefficients by definition."""
        length = np.array([1.0, 1.0, 1.0, self.span, self.chord, self.span])
        return np.asarray(loads / (self.push * length))


def mount(
    aeroplane: Assembled | Aeroplane | str,
    setup: SetUp | SetUpBlock | str | None,
    reference: TunnelReference | None,
    draws: Floats | None,
    speed_mps: float | None,
    powered: bool,
    deflections_deg: Mapping[str, Numbers] | None = None,
) -> Mounted:
    """Return an aeroplane ready to be measured [m, N].

    Dynamic pressure times area, by definition.

    Parameters
    ----------
    aeroplane : Assembled, Aeroplane or str
        Assembled already (then without ``setup``), or a file, or a bundled one's name.
    setup : SetUp, SetUpBlock, str or None
        As `assemble` takes it.
    reference : TunnelReference or None
    draws : float array (N_DRAW,) or (k, N_DRAW), optional
        Offsets in physical units; None measures the nominal aeroplane.
    speed_mps : float or None
        None takes the speed of the sections' Reynolds numbers.
    powered : bool
        False takes fans and propellers away.
    deflections_deg : mapping, optional
        As `servo_angles`; a flap that it holds at one angle has that angle's drag.

    Raises
    ------
    ValueError
        A number out of its range, or a set-up beside what is assembled already.
    """
    ready = _flap_at((deflections_deg or {}).get(FLAP), _ready(aeroplane, setup))
    ref, own = ready.weighed.reference, reference or TunnelReference()
    speed = reference_speed(ready.weighed.mass_kg, ref.area_m2) if speed_mps is None else speed_mps
    _positive("speed_mps", speed, SLOWEST)  # the kernel's lags know no slower air
    sizes = {
        "area_m2": own.area_m2 if own.area_m2 is not None else ref.area_m2,
        "span_m": own.span_m if own.span_m is not None else ref.span_m,
        "chord_m": own.chord_m if own.chord_m is not None else ref.mean_chord_m,
    }
    for name, size in sizes.items():
        _positive(f"reference.{name}", size)
    x, _, z = ready.weighed.balance_m
    aft = x if own.aft_mm is None else -MM * own.aft_mm
    up = z if own.up_mm is None else -MM * own.up_mm
    away = (float(aft - x), 0.0, float(up - z))
    models = []
    for draw in _offsets(draws):
        model = perturbed(ready.model, ready.roles, draw)
        moved(model, *away)
        models.append(model if powered else model._replace(units=model.units[:0].copy()))
    push = 0.5 * ready.density * speed**2 * sizes["area_m2"]
    return Mounted(
        assembled=ready,
        models=tuple(models),
        drawn=draws is not None and np.ndim(draws) == 2,
        speed=float(speed),
        push=push,
        span=sizes["span_m"],
        chord=sizes["chord_m"],
    )


def _ready(
    aeroplane: Assembled | Aeroplane | str, setup: SetUp | SetUpBlock | str | None
) -> Assembled:
    if isinstance(aeroplane, Assembled):
        if setup is not None:
            raise ValueError("setup: the aeroplane is assembled already, in a set-up; leave it out")
        return aeroplane
    found = aeroplane if isinstance(aeroplane, Aeroplane) else load_aeroplane(aeroplane)
    return assemble(found, setup)


def _flap_at(flap_deg: Numbers | None, ready: Assembled) -> Assembled:
    """Return the set-up with its flap at one angle [deg], as it is if none or several are asked."""
    if flap_deg is None or np.ndim(flap_deg) > 0 or FLAP not in ready.aeroplane.channels:
        return ready
    angle = float(np.asarray(flap_deg, dtype=float))
    if angle == ready.setup.flap_deg or not abs(angle) <= 90.0:  # `servo_angles` refuses more
        return ready
    return assemble(ready.aeroplane, ready.setup.model_copy(update={"flap_deg": angle}))


def _positive(name: str, value: float, least: float = 0.0) -> None:
    if not (np.isfinite(value) and value > least):
        raise ValueError(f"{name}: must be above {least:g}; got {value:g}")


def _offsets(draws: Floats | None) -> Floats:
    """Return draws (k, N_DRAW) that leave the balance point alone."""
    out = np.zeros(d.N_DRAW) if draws is None else np.array(draws, dtype=float)
    if out.ndim not in (1, 2) or out.shape[-1] != d.N_DRAW or out.size == 0:
        raise ValueError(f"draws: must have {d.N_DRAW} numbers in each row; got shape {out.shape}")
    if not np.isfinite(out).all():
        raise ValueError("draws: must be numbers; got NaN or infinity")
    out = np.atleast_2d(out)
    out[:, NOT_DRAWN] = 0.0
    return np.ascontiguousarray(out)


def servo_angles(
    assembled: Assembled, deflections_deg: Mapping[str, Numbers], shape: tuple[int, ...]
) -> Floats:
    """Return where each servo stands (*shape, c) [rad]; not named: at nought, a flap as set up.

    Parameters
    ----------
    deflections_deg : mapping of str to float array
        Channel, or a surface that one channel moves, with " right" or " left" after it for
        one panel of a pair. Trailing edge down plus; of a surface that stands, to the right.

    Raises
    ------
    ValueError
        A name that is none of the aeroplane's, two names for one panel, or a number that is
        none or does not fit ``shape``.

    Geometry: signs of a panel's normal.
    """
    servos = _panels(assembled.aeroplane)
    rows = assembled.aero.channels
    out = np.zeros((*shape, len(rows))) + assembled.model.servos[:, V_OFFSET]
    named: dict[tuple[str, float], str] = {}
    for name, value in deflections_deg.items():
        angles = _angles(f"deflections_deg[{name!r}]", value, shape)
        for place in _meant(name, servos):
            if place in named:
                raise ValueError(
                    f"deflections_deg: {named[place]!r} and {name!r} both move one panel; "
                    "name it once"
                )
            named[place] = name
            out[..., rows[place]] = angles * servos[place][0]
    return out


def _angles(name: str, value: Numbers, shape: tuple[int, ...]) -> Floats:
    angles = np.radians(np.asarray(value, dtype=float))
    if not np.isfinite(angles).all() or (np.abs(angles) > radians(90.0)).any():
        raise ValueError(f"{name}: must lie between -90 and 90 degrees; got {value!r}")
    try:
        return np.broadcast_to(angles, shape)
    except ValueError:
        raise ValueError(
            f"{name}: shape {angles.shape} does not fit that of the angles, {shape}"
        ) from None


def _panels(aeroplane: Aeroplane) -> dict[tuple[str, float], tuple[float, str]]:
    """Return the kernel's sign and the surface of each (channel, side) that a servo moves."""
    out: dict[tuple[str, float], tuple[float, str]] = {}
    for surface in aeroplane.surfaces:
        for control in surface.controls:
            for panel in panels_of(surface):
                side = panel.side if surface.mirrored else 0.0
                # the kernel's plus pushes along the normal: up, or to the left
                sign = 1.0
                if upright(surface):
                    sign = 1.0 if normal_of(panel)[1] < 0.0 else -1.0
                out.setdefault((control.channel, side), (sign, surface.name))
    return out


def _meant(
    name: str, servos: dict[tuple[str, float], tuple[float, str]]
) -> Sequence[tuple[str, float]]:
    """Return the (channel, side) that a name stands for."""
    word, _, last = name.rpartition(" ")
    side = SIDES.get(last) if word else None
    stem = word if side is not None else name
    found = [
        place
        for place, (_, surface) in servos.items()
        if stem in (place[0], surface) and (side is None or place[1] == side)
    ]
    if len({channel for channel, _ in found}) > 1 and not any(c == stem for c, _ in found):
        channels = sorted({channel for channel, _ in found})
        raise ValueError(
            f"deflections_deg: {stem!r} has several channels; name one of {', '.join(channels)}"
        )
    if any(c == stem for c, _ in found):
        found = [place for place in found if place[0] == stem]
    if not found:
        names = sorted({channel for channel, _ in servos} | {s for _, s in servos.values()})
        raise ValueError(f"deflections_deg: {name!r} moves nothing; {hint(stem, names, 'names')}")
    return found
