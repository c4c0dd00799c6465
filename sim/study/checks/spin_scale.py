"""Where the spins of a study lie among published ones, and what tail and fuselage do in them."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import degrees

import numpy as np

from sim.core import script_layout as s
from sim.judge import Spin
from sim.judge.spins import MUSH
from sim.pack.assemble import Assembled
from sim.spin.rotary import SpinYaw, spin_yaw
from sim.spin.scale import PublishedSpin, Scale, Where, froude_scaled, published_spins, scale_of
from sim.study.checks.agreement import entries_of
from sim.study.results.result import StudyResult
from sim.study.results.set_up import CaseResult


@dataclass(frozen=True)
class Stand:
    """Where one spin lies against one published kind, that scaled to the model's span."""

    published: PublishedSpin
    alpha: Where
    rate: Where
    sink: Where
    turn: Where


@dataclass(frozen=True)
class ScaledSpin:
    """The typical spin of a set-up's manoeuvre, with what it is compared by.

    ``beta_deg`` is its median sideslip in a spin to the right.
    """

    setup: str
    manoeuvre: str
    spin: Spin
    beta_deg: float
    scale: Scale
    stands: tuple[Stand, ...]
    yaw: SpinYaw


def scaled_spins(result: StudyResult, ready: Iterable[Assembled]) -> list[ScaledSpin]:
    """Return the typical spin of every set-up and manoeuvre that spun; a mush turns not.

    Parameters
    ----------
    ready : Assembled, one a set-up
        The set-ups of the study in its order, nominal.
    """
    out = []
    for setup, assembled in zip(result.setups, ready, strict=True):
        scale = scale_of(assembled)
        for name, case in entries_of(setup).items():
            rows = case.rows[case.rows[:, s.R_SPUN] > 0.0]
            if case.spin is None or case.spin.mode == MUSH or len(rows) == 0:
                continue
            beta = sideslip_deg(case)
            out.append(
                ScaledSpin(
                    setup=setup.name,
                    manoeuvre=name,
                    spin=case.spin,
                    beta_deg=beta,
                    scale=scale,
                    stands=stands_of(case.spin, scale.span_m),
                    yaw=spin_yaw(assembled, case.spin.alpha_deg, beta, case.spin.rate),
                )
            )
    return out


def sideslip_deg(case: CaseResult) -> float:
    """Return the median sideslip [deg] of the flights that spun, those to the left mirrored."""
    rows = case.rows[case.rows[:, s.R_SPUN] > 0.0]
    return degrees(np.median(rows[:, s.R_SPIN_BETA] * np.sign(rows[:, s.R_SPIN_YAW])))


def stands_of(spin: Spin, span_m: float) -> tuple[Stand, ...]:
    """Return where a spin of a model of some span lies against each published kind."""
    out = []
    for published in published_spins():
        like = froude_scaled(published, span_m)
        out.append(
            Stand(
                like,
                like.alpha_deg.where(abs(spin.alpha_deg)),
                like.rate_dps.where(spin.yaw_rate_dps),
                like.sink_mps.where(spin.sink_mps),
                like.turn.where(spin.rate),
            )
        )
    return tuple(out)
