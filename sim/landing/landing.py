"""Everything about the landing end of one set-up."""

from dataclasses import dataclass, replace

from sim import tables
from sim.describe import Aeroplane, load_manoeuvre, load_recovery
from sim.describe.setup import SetUp
from sim.fly.columns import Floats
from sim.landing.approach import (
    Approach,
    FlapChange,
    approach,
    approach_speed,
    flap_change,
    flap_pair,
    landing_flaps,
    rotation_speed,
)
from sim.landing.drawn import rebased
from sim.landing.forward import ForwardLimit, forward_limit
from sim.landing.gusts import GustResponse, gust_names, gust_responses
from sim.landing.more_throw import MoreThrow, more_throw
from sim.pack.assemble import Assembled, assemble
from sim.trim.trimming import level, neutral_point_pct

RECOVERY = "centre_sticks"


@dataclass(frozen=True)
class Landing:
    """Approach with the flap at each position, the forward limit, take-off, and gusts.

    ``flap`` is None without a flap channel; ``rotation_mps`` None where it is not looked at.
    ``more_throw`` is told where the set-up lies forward of the limit.
    """

    approaches: tuple[Approach, ...]
    flap: FlapChange | None
    forward: ForwardLimit
    rotation_mps: float | None
    gusts: tuple[GustResponse, ...]
    more_throw: MoreThrow | None = None


def set_up_forward(
    aeroplane: Aeroplane, setup: SetUp, draws: Floats, share_pct: float
) -> ForwardLimit:
    """Return the forward limit of a set-up's pack and combination.

    One for all its balance points: weighed with the pack at the front of the tray and nothing
    added, each position of its flap that it lands with.

    Parameters
    ----------
    draws : float array (n, N_DRAW)
        Offsets in physical units.
    share_pct : float
        Of draws that must have the authority [%].
    """
    front = {"pack_aft_mm": aeroplane.tray_of(setup.pack).front_aft_mm, "balance_aft_mm": None}
    ready = assemble(aeroplane, setup.model_copy(update=front))
    reach = ready.weighed.balance_aft_mm
    found = forward_limit(landing_flaps(ready), draws, share_pct, reach)
    if found.aft_mm is None:
        return found
    # as it would fly there: a foreplane works the harder the further forward it balances
    there = replace(ready, model=rebased(ready, 0.001 * (reach - found.aft_mm)))
    trim = level(there, approach_speed(there))
    if not trim.found:
        return found
    room = neutral_point_pct(there, trim)[1]
    neutral = found.aft_mm + 10.0 * room * ready.weighed.reference.mean_chord_m
    return replace(found, neutral_mm=neutral, room_pct=room)


def landing_of(ready: Assembled, draws: Floats, share_pct: float) -> Landing:
    """Return the landing end of a set-up.

    Parameters
    ----------
    draws : float array (n, N_DRAW)
        Offsets in physical units; the gusts take the first of them.
    share_pct : float
        Of draws that must have the authority [%].
    """
    flaps = landing_flaps(ready)
    pair = flap_pair(flaps)
    approaches = tuple(approach(x, draws) for x in flaps)
    change = None
    if pair is not None:
        slower = min(approaches, key=lambda x: x.approach_mps)
        change = flap_change(*pair, slower.approach_mps)
    recovery = load_recovery(RECOVERY)
    manoeuvres = [load_manoeuvre(name) for name in gust_names()]
    few = draws[: tables.landing().gust_draws]

    def limit_of(setup: SetUp) -> ForwardLimit:
        return set_up_forward(ready.aeroplane, setup, draws, share_pct)

    forward, place, more = limit_of(ready.setup), ready.weighed.balance_aft_mm, None
    if forward.aft_mm is not None and forward.aft_mm > place:
        more = more_throw(ready.aeroplane, ready.setup, place, forward, limit_of)
    return Landing(
        approaches=approaches,
        flap=change,
        forward=forward,
        rotation_mps=rotation_speed(flaps[0] if pair is None else pair[0]),
        gusts=gust_responses(ready, manoeuvres, recovery, few),
        more_throw=more,
    )
