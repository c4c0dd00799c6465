"""The forward limit of a set-up: the foremost balance point from which it still flares and rotates.

Approach, flare and touch-down are flown power off, out of the air that the ground has changed
(`sim.landing.ground`); the nose is lifted for take-off with full throttle. Each is asked of the
nominal aeroplane and of every draw; the limit is the foremost balance point at which the lower
95 % limit of the share of draws that can is at or above the share asked for.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sim import tables
from sim.fly.columns import Floats
from sim.judge.confidence import wilson
from sim.landing.authority import angles, asked_speed, has_elevator
from sim.landing.drawn import ROTATE, Ask, of_draws
from sim.landing.ground import ground_down_m, ground_factors, wheels_of, with_ground
from sim.pack.assemble import Assembled

FLARE, TOUCH_DOWN = "flare", "touch-down"
MM = 1000.0
TAILS = (0.025, 0.975)  # of 95 % limits


@dataclass(frozen=True)
class CheckLimit:
    """The foremost balance point [mm aft] for one thing asked of full aft stick.

    ``nominal_mm`` is that of the nominal aeroplane; ``aft_mm`` the one shown by the draws, with
    its 95 % limits ``low_mm`` (forward) and ``high_mm``. ``flap_deg`` is where the flap stands,
    ``speed_mps`` what is flown, ``load_g`` its load factor.
    """

    name: str
    flap_deg: float
    speed_mps: float
    load_g: float
    nominal_mm: float
    aft_mm: float
    low_mm: float
    high_mm: float


@dataclass(frozen=True)
class ForwardLimit:
    """How far forward a set-up may balance and still land and take off.

    ``aft_mm`` is the rearmost of its ``checks``, None where nothing answers to the elevator
    stick or the draws are too few to show the share. ``reach_mm`` is the foremost balance point
    that the pack gives on its tray, without weights added. ``left_out`` says what was not
    looked at, and why. ``neutral_mm`` is the neutral point in level flight, stick fixed, None
    where none is found; ``room_pct`` how far the limit lies ahead of it [% MAC]. Where it is flown,
    and so landed, from a place ``flown_mm`` that lies forward of even the nominal limit, the
    reckoning is wrong: ``aft_mm`` and its limits are None then, ``reckoned_mm`` is what it was.
    """

    aft_mm: float | None
    low_mm: float | None
    high_mm: float | None
    pct_mac: float | None
    nominal_mm: float | None
    checks: tuple[CheckLimit, ...]
    draws: int
    share_pct: float
    reach_mm: float
    left_out: tuple[str, ...]
    neutral_mm: float | None = None
    room_pct: float | None = None
    flown_mm: float | None = None
    reckoned_mm: float | None = None

    def against(self, flown_mm: float) -> "ForwardLimit":
        """Return it held against a place from which it is flown today [mm aft]."""
        if self.nominal_mm is None or self.aft_mm is None or self.nominal_mm <= flown_mm:
            return self
        return replace(
            self, flown_mm=flown_mm, reckoned_mm=self.aft_mm, aft_mm=None, low_mm=None,
            high_mm=None, pct_mac=None, nominal_mm=None, room_pct=None,
        )  # fmt: skip

    @property
    def decided_by(self) -> CheckLimit | None:
        """The check that the limit comes from."""
        return max(self.checks, key=lambda x: x.aft_mm, default=None)


def forward_limit(
    flaps: Sequence[Assembled], draws: Floats, share_pct: float, reach_mm: float
) -> ForwardLimit:
    """Return the forward limit of a set-up.

    Parameters
    ----------
    flaps : sequence of Assembled
        The set-up with its flap at each of the positions that it lands with.
    draws : float array (n, N_DRAW)
        Offsets in physical units.
    share_pct : float
        Of draws that must have the authority [%].
    reach_mm : float
        Foremost balance point that the pack gives [mm aft].
    """
    first = flaps[0]
    bearable = most_without(len(draws), share_pct / 100.0)
    left_out = [rotation_left_out(first)]
    checks: list[CheckLimit] = []
    if not has_elevator(first.model):
        left_out.append("no surface answers to the elevator stick")
    elif bearable is None:
        left_out.append(f"{len(draws)} draws cannot show {share_pct:g} %")
    else:
        for ready in flaps:
            checks += _checks(ready, draws, bearable)
    worst = max(checks, key=lambda x: x.aft_mm, default=None)
    return ForwardLimit(
        aft_mm=None if worst is None else worst.aft_mm,
        low_mm=None if worst is None else worst.low_mm,
        high_mm=None if worst is None else max(x.high_mm for x in checks),
        pct_mac=None if worst is None else first.weighed.reference.pct_mac(worst.aft_mm / MM),
        nominal_mm=max((x.nominal_mm for x in checks), default=None),
        checks=tuple(checks),
        draws=len(draws),
        share_pct=share_pct,
        reach_mm=reach_mm,
        left_out=tuple(x for x in left_out if x),
    )


def rotation_left_out(ready: Assembled) -> str:
    """Return why rotation is not looked at; empty where it is."""
    gear = ready.aeroplane.undercarriage
    if gear is None:
        return "rotation not looked at: no [undercarriage] says where its wheels touch the ground"
    if not gear.has_nose_wheel:
        return "rotation not looked at: it stands on a tail wheel, its nose already up"
    return ""


def most_without(draws: int, share: float) -> int | None:
    """Return how many draws may lack authority for the share to be shown, None if none may.

    The lower 95 % limit of those that have it [wilson1927], without unit.
    """
    shown = [n for n in range(draws) if wilson(draws - n, draws)[0] >= share]
    return max(shown) if shown else None


def _asked(ready: Assembled) -> list[Ask]:
    values = tables.landing()
    out = [
        Ask(FLARE, values.approach_over_stall, values.flare_load_g),
        Ask(TOUCH_DOWN, values.touchdown_over_stall, 1.0),
    ]
    if not rotation_left_out(ready) and ready.setup.flap_deg == 0.0:
        out.append(Ask(ROTATE, values.rotate_over_stall, 1.0))
    return out


def _checks(ready: Assembled, draws: Floats, bearable: int) -> list[CheckLimit]:
    """Return what is asked with the flap as it stands in one assembled set-up.

    Own: two rounds over the draws, the first with a quarter of them. What a draw has wrong acts
    about the balance point, and the speed hangs on it a little, so each round is flown from where
    the one before ended.
    """
    asked, here = _asked(ready), ready.weighed.balance_aft_mm
    air = ground_factors(ready.model, ground_down_m(ready))
    asked_at = asked_speed(ready)
    nominal = [_nominal(ready, ask, air, asked_at) for ask in asked]
    found = nominal
    for count in (max(1, len(draws) // 4), len(draws)):
        base = min(found)
        speed = asked_at(base)
        rank = min(bearable * count // len(draws), count - 1)
        ranks = 1 + max(rank, *_ranks(count, rank))
        ranked = base + of_draws(ready, asked, draws[:count], (base, speed), air, ranks)
        found = [float(x[rank]) for x in ranked]
    out = []
    for ask, first, last, values in zip(asked, nominal, found, ranked, strict=True):
        low, high = _interval(values, bearable)
        out.append(
            CheckLimit(
                name=ask.name,
                flap_deg=ready.setup.flap_deg,
                speed_mps=ask.over * speed,
                load_g=ask.load_g,
                nominal_mm=here - MM * first,
                aft_mm=here - MM * last,
                low_mm=here - MM * high,
                high_mm=here - MM * low,
            )
        )
    return out


def _nominal(ready: Assembled, ask: Ask, air: Floats, asked_at: Callable[[float], float]) -> float:
    """Return how far ahead [m] the nominal aeroplane still can, at the speed that goes with it.

    ``asked_at`` is that speed [m/s] by how far ahead [m] it balances.
    """
    model, alphas = with_ground(ready.model, air), angles(ready.stall.alpha)
    wheels = wheels_of(ready.aeroplane, ready.weighed.balance_m)
    out = 0.0
    for _ in range(tables.landing().rounds):
        speed = asked_at(out)
        out = ask.foremost(model, wheels, alphas, speed)
    return out


def _interval(ranked: Floats, bearable: int) -> tuple[float, float]:
    """Return the 95 % limits of a ranked value: ranks that other draws would give it [m]."""
    low, high = _ranks(len(ranked), bearable)
    return float(ranked[low]), float(ranked[high])


def _ranks(count: int, bearable: int) -> tuple[int, int]:
    """Return the ranks between which other draws would put a ranked value.

    The rank of a fixed value among n draws is binomial (order statistics, from memory).
    """
    from scipy.stats import binom  # half a second to import; few commands get here

    low, high = binom.ppf(TAILS, count, (bearable + 0.5) / count)
    return int(np.clip(low, 0, count - 1)), int(np.clip(high, 0, count - 1))
