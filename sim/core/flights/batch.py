"""Many flights: draw, trim, fly, summarise, one after the other, without the GIL.

Several recoveries from one entry fly that entry once, and each goes on from its end.
"""

import numpy as np

from sim.core import kernel
from sim.core.flights.beginning import started
from sim.core.flights.flight import fly
from sim.core.flights.fork import FORK_TICK, copied, new_fork
from sim.core.flights.summary import summarise
from sim.core.script_layout import (
    N_SUMMARY,
    PH_REACTION,
    PH_STAGE,
    R_FASTER,
    R_STATUS,
    R_TRIM_ERROR,
    STAGE_ENTRY,
    STATUS_NO_TRIM,
)


@kernel(entry=False, passed_on=True)
def conclude(history, rows, pace, model, judge, status, begun, out):
    """Fill the summary ``out`` (N_SUMMARY,) of a flight from its history and how it was `Begun`.

    Own: a start too far from steady is no start, flight.toml.
    """
    summarise(history, rows, 1.0 / pace.control_rate_hz, model.env, judge, status, out)
    out[R_TRIM_ERROR] = begun.error
    out[R_FASTER] = begun.faster
    if not begun.error < pace.trim_good_mps2:
        out[R_STATUS] = STATUS_NO_TRIM


@kernel(entry=False)
def handed_over_alike(one, two):
    """Return True if two tables of phases hand over to the recovery at the same moment.

    The entry phases are the same; the first recovery phase may wait for a reaction.
    """
    k = 0
    while int(one[k, PH_STAGE]) <= STAGE_ENTRY:
        k += 1
    return one[k, PH_REACTION] == two[k, PH_REACTION]


@kernel
def many_flights(
    model, roles, draws, sides, which, phases, ends, seconds, judge, start, pace, history
):
    """Fly draw ``which[i]`` to side ``sides[i]`` for each i, with each of some recoveries.

    Parameters
    ----------
    roles : int array (m,)
        ROLE_WING, ROLE_TAIL or ROLE_FIN of each surface.
    draws : float array (d, N_DRAW)
        Offsets in physical units.
    sides : float array (n,)
        +1 to the right, -1 to the left.
    phases : float array (k, p, N_PHASE)
        Table of phases of each recovery, all after the same entry; ``ends`` (k,) says how
        many rows of each count.
    seconds : float array (k,)
        How long a flight with each recovery may last.
    judge : float array (N_JUDGE,)
    start : Start
    pace : Pace
    history : float array (rows, N_HISTORY)
        Flown in, a row a tick: as many as the longest recovery may last. That of the last flight
        is left there.

    Returns
    -------
    float array (k, n, N_SUMMARY), and the rows of the history that the last flight wrote

    Times in s. Own: one flight with its history is one among many.
    """
    n, recoveries = which.size, ends.size
    out = np.zeros((recoveries, n, N_SUMMARY))
    rows = 0
    for i in range(n):
        new, work, inputs, x, begun = started(model, roles, draws[which[i]], sides[i], start, pace)
        first, target, wind = x.copy(), inputs.target.copy(), inputs.wind.copy()
        fork = new_fork(x.size, inputs.target.size)
        of = 0  # the recovery that the fork was kept by
        for k in range(recoveries):
            table = phases[k, : ends[k]]
            most = int(seconds[k] * pace.control_rate_hz) + 1
            if not (fork.clock[FORK_TICK] < most and handed_over_alike(phases[of], table)):
                fork = new_fork(x.size, inputs.target.size)
            if fork.clock[FORK_TICK] < 0.0:
                of = k
                copied(first, x)
                copied(target, inputs.target)
                copied(wind, inputs.wind)
            rows, status = fly(
                x, new, inputs, work, table, judge, sides[i], pace, history[:most], fork
            )
            conclude(history, rows, pace, new, judge, status, begun, out[k, i])
    return out, rows
