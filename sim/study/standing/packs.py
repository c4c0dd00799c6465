"""Packs held against each other: which of them is the best compromise, and which is none."""

from dataclasses import dataclass
from math import inf, isfinite

from sim import tables
from sim.judge import Outcome
from sim.study.results.aft_limit import AftLimit
from sim.study.results.agility import Shown
from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.study.standing.bands import aft_of, combination_of, own_limit
from sim.study.standing.heights import shown_from_all
from sim.study.standing.outcomes import best_recovery, setup_outcome
from sim.study.standing.window import even_nominal

TELLING = ("angle", "somersault", "pass", "loop", "roll")  # kinds, what pilots go aft for first


@dataclass(frozen=True)
class PackChoice:
    """A set-up that stands for its pack.

    ``height_m`` is the entry height that shows its worst manoeuvre, infinite where none does.
    ``in_question``: it meets the requirement, is not balanced aft of its limit, and flies level.
    ``beaten_by`` names a pack that is no worse in anything compared and better in something;
    ``best``: the best compromise.
    ``telling`` is the manoeuvre of agility that tells most; None: none was flown.
    """

    setup: SetUpResult
    outcome: Outcome
    limit: AftLimit | None
    height_m: float
    in_question: bool
    beaten_by: str | None
    best: bool
    telling: Shown | None = None


def pack_choices(result: StudyResult) -> tuple[PackChoice, ...]:
    """Return how packs stand; none unless the set-ups differ by their packs alone, each its own.

    Own: compared are minutes (more), height needed (less, in the steps of card.toml within which
    heights are the same) and stall speed (less). Of those in question that none beats in all,
    the best compromise is the one whose worst loss is least, each loss as a share of what the
    best pack in question has.
    """
    setups = result.setups
    packs = {x.pack for x in setups}
    if len(packs) < 2 or len(packs) < len(setups) or len(set(map(combination_of, setups))) > 1:
        return ()
    required = result.required_share_pct
    limits = [own_limit(result.aft_limits, x) for x in setups]
    stands = [setup_outcome(x, required) for x in setups]
    heights = [shown_from_all(best_recovery(x, required), required, result.draws) for x in setups]
    asked = [
        stand is Outcome.MET
        and x.flight_time is not None
        and not aft_of(x.balance_aft_mm, limit)
        and not cannot_land(x)
        for x, stand, limit in zip(setups, stands, limits, strict=True)
    ]
    costs = {
        x.pack: _costs(x, height)
        for x, height, held in zip(setups, heights, asked, strict=True)
        if held
    }
    beaten = {pack: _beaten_by(pack, costs) for pack in costs}
    best = _least_regret({p: c for p, c in costs.items() if beaten[p] is None}, costs)
    return tuple(
        PackChoice(x, stand, limit, height, held, beaten.get(x.pack), x.pack == best, telling_of(x))
        for x, stand, limit, height, held in zip(
            setups, stands, limits, heights, asked, strict=True
        )
    )


def cannot_land(setup: SetUpResult) -> bool:
    """Tell whether even the nominal aeroplane balances too far forward to land or take off."""
    return even_nominal(setup.forward, setup.balance_aft_mm)


def telling_of(setup: SetUpResult) -> Shown | None:
    """Return the manoeuvre that tells most of a set-up's agility, of those that it flew."""
    kinds = {x.shows: x for x in reversed(setup.agility)}
    return next((kinds[kind] for kind in TELLING if kind in kinds), None)


def _costs(setup: SetUpResult, height_m: float) -> tuple[float, ...]:
    """Return what is compared, less is better: minutes, height in steps, stall speed."""
    assert setup.flight_time is not None
    step = tables.card().same_height_m
    stepped = step * round(height_m / step) if isfinite(height_m) else inf
    return -setup.flight_time.minutes.middle, stepped, setup.stall_speed_mps


def _beaten_by(pack: str, costs: dict[str, tuple[float, ...]]) -> str | None:
    own = costs[pack]
    for other, theirs in costs.items():
        if theirs != own and all(a <= b for a, b in zip(theirs, own, strict=True)):
            return other
    return None


def _least_regret(
    front: dict[str, tuple[float, ...]], costs: dict[str, tuple[float, ...]]
) -> str | None:
    """Return the pack whose worst loss is least; the first of equals, None without packs."""
    best = [min(column) for column in zip(*costs.values(), strict=True)]

    def loss(pack: str) -> float:
        parts = zip(front[pack], best, strict=True)
        known = [(own, least) for own, least in parts if isfinite(least) and least]
        return max(((own - least) / abs(least) for own, least in known), default=0.0)

    return min(front, key=loss, default=None)
