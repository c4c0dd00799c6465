"""Static coefficients of an aeroplane, as a wind tunnel or a rotary rig would measure them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sim.core.steady.statics import swept
from sim.describe import Aeroplane, SetUp, SetUpBlock
from sim.fly.columns import Floats
from sim.fly.tunnel.reference import Mounted, Numbers, TunnelReference, mount, servo_angles
from sim.pack.assemble import Assembled


@dataclass(frozen=True)
class StaticCoefficients:
    """Coefficients on body axes: x forward, y right, z down; moments nose up, right wing down.

    ``alpha_deg`` and ``beta_deg`` have the shape (...) that all arguments make together;
    the coefficients have it too, or (k, ...) of k draws.

    Parameters
    ----------
    CX, CY, CZ : float array
        Force over dynamic pressure and area.
    Cl, Cm, Cn : float array
        Rolling, pitching, yawing moment about the reference point over dynamic pressure,
        area and span, chord, span.
    CL, CD : float array
        Lift across the stream in the plane of symmetry, and drag along the stream.
    """

    alpha_deg: Floats
    beta_deg: Floats
    CX: Floats
    CY: Floats
    CZ: Floats
    Cl: Floats
    Cm: Floats
    Cn: Floats

    @property
    def CL(self) -> Floats:
        """Lift coefficient [-], across the stream; by definition."""
        alpha = np.radians(self.alpha_deg)
        return np.asarray(self.CX * np.sin(alpha) - self.CZ * np.cos(alpha))

    @property
    def CD(self) -> Floats:
        """Drag coefficient [-], along the stream; by definition."""
        alpha, beta = np.radians(self.alpha_deg), np.radians(self.beta_deg)
        back = self.CX * np.cos(alpha) + self.CZ * np.sin(alpha)
        return np.asarray(-back * np.cos(beta) - self.CY * np.sin(beta))


def coefficients(
    aeroplane: Assembled | Aeroplane | str,
    setup: SetUp | SetUpBlock | str | None = None,
    *,
    alpha_deg: Numbers,
    beta_deg: Numbers = 0.0,
    rates: tuple[Numbers, Numbers, Numbers] = (0.0, 0.0, 0.0),
    deflections_deg: Mapping[str, Numbers] | None = None,
    draws: Floats | None = None,
    reference: TunnelReference | None = None,
    speed_mps: float | None = None,
    throttle: float | None = None,
) -> StaticCoefficients:
    """Return static coefficients; arguments broadcast against each other as numpy's do.

    Angles of [stevens2015], rates by definition. The flow has settled, as in a tunnel; weight is
    no part of it. Where flow that is
    attached and flow that is not are both possible, each row (last axis) is reached from
    its least angle of attack upwards and downwards, attached at first: a slow sweep.

    Parameters
    ----------
    aeroplane : Assembled, Aeroplane or str
        Assembled already, or an aeroplane, its file or a bundled one's name, in ``setup``.
    alpha_deg, beta_deg : float array
        Angle of attack and of sideslip [deg]: w/u = tan alpha, v/V = sin beta.
    rates : three float arrays
        pb/2V, qc/2V, rb/2V, without units, about the reference point.
    deflections_deg : mapping of str to float array, optional
        By channel or surface, trailing edge down plus, of a standing surface to the right
        (it yaws the nose to the right); "aileron right" and "aileron left" move one panel.
        All else stands at nought, whatever throw the set-up allows, but for the flap: at the
        set-up's ``flap_deg``. Named with several angles, or one panel alone, it keeps the drag
        of its own that it has at ``flap_deg``.
    draws : float array (N_DRAW,) or (k, N_DRAW), optional
        Offsets in physical units, such as `sim.study.flights.draws.make_draws` gives. Those of the
        balance point, mass, throws and pilot change nothing here.
    reference : TunnelReference, optional
    speed_mps : float, optional
        Airspeed [m/s]; None takes the one of the sections' Reynolds numbers. Without power the
        coefficients hardly depend on it.
    throttle : float, optional
        0 to 1; None takes fans and propellers away.

    Raises
    ------
    FileFault
        The aeroplane's file or set-up cannot be used.
    ValueError
        An unknown name, a number that is none or out of its range, shapes that do not fit.

    Examples
    --------
    >>> import sim
    >>> found = sim.coefficients(
    ...     "display_jet", "club", alpha_deg=[5.0, 40.0], deflections_deg={"tail": -10.0}
    ... )
    >>> found.CL.shape
    (2,)
    >>> bool(found.CL[1] > found.CL[0] > 0.0)
    True
    >>> bool(found.Cm[0] > 0.0)  # the tail's trailing edge up lifts the nose
    True
    """
    if throttle is not None and not 0.0 <= throttle <= 1.0:
        raise ValueError(f"throttle: must lie between 0 and 1; got {throttle:g}")
    mounted = mount(
        aeroplane, setup, reference, draws, speed_mps, throttle is not None, deflections_deg
    )
    turned = deflections_deg or {}
    alpha, beta, p, q, r = _together(turned, alpha_deg, beta_deg, *rates)
    lengths = np.array([mounted.span, mounted.chord, mounted.span])
    turns = np.stack([p, q, r], axis=-1) * (2.0 * mounted.speed / lengths)
    servos = servo_angles(mounted.assembled, turned, alpha.shape)
    loads = _loads(mounted, np.radians(alpha), np.radians(beta), turns, servos, throttle or 0.0)
    parts = np.moveaxis(mounted.coefficients(loads), -1, 0)
    shown = parts if mounted.drawn else parts[:, 0]
    return StaticCoefficients(alpha, beta, *(np.asarray(part) for part in shown))


def _together(turned: Mapping[str, Numbers], *values: Numbers) -> list[Floats]:
    """Return angles and rates as arrays of the shape that they and the deflections make."""
    names = ("alpha_deg", "beta_deg", "rates[0]", "rates[1]", "rates[2]")
    arrays = [np.asarray(value, dtype=float) for value in values]
    for name, array in zip(names, arrays, strict=True):
        if not np.isfinite(array).all() or array.size == 0:
            raise ValueError(f"{name}: must be numbers; got {array}")
    all_names = [*names, *turned]
    shapes = [a.shape for a in arrays] + [np.shape(value) for value in turned.values()]
    try:
        shape = np.broadcast_shapes(*shapes)
    except ValueError:
        told = ", ".join(f"{n} {s}" for n, s in zip(all_names, shapes, strict=True))
        raise ValueError(f"shapes do not fit each other: {told}") from None
    return [np.broadcast_to(array, shape).copy() for array in arrays]


def _loads(
    mounted: Mounted, alpha: Floats, beta: Floats, turns: Floats, servos: Floats,
    throttle: float,
) -> Floats:  # fmt: skip
    """Return loads (k, ..., 6) [N, N m]: each model, each row swept outwards."""
    count = alpha.shape[-1] if alpha.ndim else 1
    rows = alpha.size // count
    flat = [x.reshape(rows, count, *x.shape[alpha.ndim :]) for x in (alpha, beta, turns, servos)]
    out = np.zeros((len(mounted.models), *flat[0].shape, 6))
    for row, (a, b, turn, servo) in enumerate(zip(*flat, strict=True)):
        for half in (a < 0.0, a >= 0.0):
            order = np.flatnonzero(half)[np.argsort(np.abs(a[half]), kind="stable")]
            if order.size == 0:
                continue
            for k, model in enumerate(mounted.models):
                out[k, row, order] = swept(
                    model, mounted.speed, a[order], b[order], turn[order], servo[order], throttle
                )
    return out.reshape(len(mounted.models), *alpha.shape, 6)
