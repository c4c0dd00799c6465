"""Rate derivatives as a tunnel measures them: the model turned to and fro on its sting."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, pi, radians
from typing import Literal, NamedTuple

import numpy as np

from sim import tables
from sim.core.steady.forced import oscillated
from sim.describe import Aeroplane, SetUp, SetUpBlock
from sim.describe.faults import hint
from sim.fly.columns import Floats
from sim.fly.tunnel.reference import Numbers, TunnelReference, mount, servo_angles
from sim.pack.assemble import Assembled

Axis = Literal["roll", "pitch", "yaw"]
AXES: dict[Axis, int] = {"roll": 0, "pitch": 1, "yaw": 2}
LEAST_STEPS = 120  # a cycle


class Parts(NamedTuple):
    """One number of each coefficient, body axes: float arrays (n,), or (k, n) of k draws."""

    CX: Floats
    CY: Floats
    CZ: Floats
    Cl: Floats
    Cm: Floats
    Cn: Floats


@dataclass(frozen=True)
class ForcedOscillation:
    """What a forced oscillation about a body axis shows, at mean angles of attack (n,).

    With theta = amplitude sin(omega t), theta the turn about the axis, a coefficient is mean
    + in_phase theta + out_of_phase thetadot L/2V, first harmonics [1/rad]; L is the chord in
    pitch, the span in roll and yaw. So with k = ``reduced_frequency`` = omega L/2V

    - pitch: in_phase.Cm = Cm_alpha - k^2 Cm_qdot, out_of_phase.Cm = Cm_q + Cm_alphadot;
    - roll: in_phase.Cl = Cl_beta sin a - k^2 Cl_pdot, out_of_phase.Cl = Cl_p + Cl_betadot sin a;
    - yaw: in_phase.Cn = -Cn_beta cos a - k^2 Cn_rdot, out_of_phase.Cn = Cn_r - Cn_betadot cos a.
    """

    axis: Axis
    alpha_deg: Floats
    amplitude_deg: float
    frequency_hz: float
    reduced_frequency: float
    mean: Parts
    in_phase: Parts
    out_of_phase: Parts


def forced_oscillation(
    aeroplane: Assembled | Aeroplane | str,
    setup: SetUp | SetUpBlock | str | None = None,
    *,
    axis: Axis,
    alpha_deg: Numbers,
    beta_deg: float = 0.0,
    amplitude_deg: float = 5.0,
    reduced_frequency: float | None = None,
    frequency_hz: float | None = None,
    deflections_deg: Mapping[str, float] | None = None,
    draws: Floats | None = None,
    reference: TunnelReference | None = None,
    speed_mps: float | None = None,
    throttle: float | None = None,
    cycles: tuple[int, int] = (2, 2),
) -> ForcedOscillation:
    """Return the derivatives [1/rad] that a forced oscillation about the reference point shows.

    First harmonics, by definition. The flow's own states are integrated over whole cycles of the
    given motion: lags of separation, downwash and induced flow are in it; weight and inertia are
    not.

    Parameters
    ----------
    aeroplane, setup, draws, reference, speed_mps, throttle
        As `coefficients` takes them; rotors keep their speed.
    axis : str
        "roll", "pitch" or "yaw": the body axis turned about.
    alpha_deg : float array (n,)
        Mean angles of attack [deg].
    beta_deg : float
        Mean sideslip [deg].
    amplitude_deg : float
        Of the turn to either side [deg], at most 45.
    reduced_frequency : float, optional
        omega L/2V, L as in `ForcedOscillation`; or, instead,
    frequency_hz : float, optional
        Turns to and fro in a second at ``speed_mps``.
    deflections_deg : mapping of str to float, optional
        As `coefficients` takes them, held.
    cycles : two ints
        How many pass before, and how many are measured.

    Raises
    ------
    FileFault
        The aeroplane's file or set-up cannot be used.
    ValueError
        An unknown name, or a number that is none or out of its range.

    Examples
    --------
    >>> import sim
    >>> found = sim.forced_oscillation(
    ...     "display_jet", "club", axis="pitch", alpha_deg=[5.0], reduced_frequency=0.05
    ... )
    >>> found.out_of_phase.Cm.shape
    (1,)
    >>> bool(found.out_of_phase.Cm[0] < 0.0)  # Cm_q + Cm_alphadot [1/rad]: pitching dies out
    True
    """
    _check(axis, amplitude_deg, reduced_frequency, frequency_hz, cycles)
    mounted = mount(
        aeroplane, setup, reference, draws, speed_mps, throttle is not None, deflections_deg
    )
    length = mounted.chord if axis == "pitch" else mounted.span
    per_omega = length / (2.0 * mounted.speed)
    omega = 2.0 * pi * (frequency_hz or 0.0) + (reduced_frequency or 0.0) / per_omega
    alphas = np.atleast_1d(np.asarray(alpha_deg, dtype=float))
    servos = servo_angles(mounted.assembled, deflections_deg or {}, ())
    turned = np.zeros(3)
    turned[AXES[axis]] = 1.0
    steps = max(LEAST_STEPS, ceil(2.0 * pi / (omega * tables.flight().step_s)))
    loads = np.array([
        [
            oscillated(
                model, mounted.speed, radians(alpha), radians(beta_deg), servos, throttle or 0.0,
                turned, radians(amplitude_deg), omega, steps, sum(cycles), cycles[0],
            )
            for alpha in alphas
        ]
        for model in mounted.models
    ])  # fmt: skip
    found = mounted.coefficients(loads)
    found[..., 2, :] /= omega * per_omega
    shown = found if mounted.drawn else found[0]
    mean, along, across = (Parts(*np.moveaxis(shown[..., i, :], -1, 0)) for i in range(3))
    return ForcedOscillation(
        axis=axis,
        alpha_deg=alphas,
        amplitude_deg=amplitude_deg,
        frequency_hz=omega / (2.0 * pi),
        reduced_frequency=omega * per_omega,
        mean=mean,
        in_phase=along,
        out_of_phase=across,
    )


def _check(
    axis: str,
    amplitude_deg: float,
    reduced_frequency: float | None,
    frequency_hz: float | None,
    cycles: tuple[int, int],
) -> None:
    """Raise a ValueError for what `forced_oscillation` cannot take."""
    if axis not in AXES:
        raise ValueError(f"axis: {axis!r} is none; {hint(axis, AXES, 'axes')}")
    if (reduced_frequency is None) == (frequency_hz is None):
        raise ValueError("give either reduced_frequency or frequency_hz")
    for name, value, most in (
        ("amplitude_deg", amplitude_deg, 45.0),
        ("reduced_frequency", reduced_frequency, 2.0),
        ("frequency_hz", frequency_hz, 50.0),
    ):
        if value is not None and not 0.0 < value <= most:
            raise ValueError(f"{name}: must be above 0 and at most {most:g}; got {value:g}")
    if min(cycles) < 1:
        raise ValueError(f"cycles: must both be at least 1; got {cycles}")
