"""What every strip carried along a flown history: coefficients, pressure, what had separated.

Flights keep where the aeroplane was and how it moved, not what each strip carried. Here the
kernel's own right-hand side is asked again at the ticks of a history, its lags settled: a
steady flow at each, followed from tick to tick.
"""

from dataclasses import dataclass

import numpy as np

from sim.core import layout as k
from sim.core import script_layout as s
from sim.core.air.atmosphere import air_density
from sim.core.draw_layout import N_DRAW
from sim.core.flights.perturb import perturbed
from sim.core.layout import Model
from sim.core.loads import lanes as lane
from sim.core.loads.lookup import CC, CN, DCC, DCN, G0, NODES_PER_UNIT, S_FIRST
from sim.core.motion.derivative import derivative
from sim.core.motion.integrate import scratch
from sim.core.motion.rates import TARGETS
from sim.core.steady.statics import hang
from sim.fly.columns import Floats
from sim.fly.flying import Flight


@dataclass(frozen=True)
class StripFlow:
    """What the strips (n,) of a flight carried at some of its ticks (t,).

    ``rows`` (t, N_HISTORY) of the history; ``pressure`` (t, n) [Pa] times the draw's factor on
    forces; coefficients (t, n) along normal and chord; ``gone`` (t, n) what had separated;
    ``force_up`` (t,) [N] of the whole aeroplane, which the history's load factor checks.
    """

    model: Model
    rows: Floats
    pressure: Floats
    normal: Floats
    chordwise: Floats
    gone: Floats
    force_up: Floats


def strip_flow(flight: Flight, rows: Floats) -> StripFlow:
    """Return what the strips carried at some rows (t, N_HISTORY) of a flight's history.

    SI units; see `flow_at`.
    """
    ready = flight.assembled
    draw = np.zeros(N_DRAW) if flight.draw is None else flight.draw
    return flow_at(perturbed(ready.model, ready.roles, draw), rows)


def flow_at(model: Model, rows: Floats) -> StripFlow:
    """Return what the strips carry at each of the rows (t, N_HISTORY), one after the other.

    SI units. Own: lags settled at each tick (`sim.core.steady.settle`), air at rest beside the
    airspeed that the history tells; so what overshoots while flow lets go is left out.
    """
    work, inputs = scratch(model)
    x = np.zeros(work.k1.size)
    x[x.size - model.strips.shape[1] :] = 1.0
    seen, force_up = [], []
    kept = min(model.servos.shape[0], s.KEPT_SERVOS)
    for row in rows:
        x[k.X_POS + 2] = -row[s.H_UP]
        inputs.target[:kept] = row[s.H_SERVO : s.H_SERVO + kept]
        hang(
            x, model, inputs, work, row[s.H_SPEED], row[s.H_ALPHA], row[s.H_BETA], row[s.H_P],
            row[s.H_Q], row[s.H_R], row[s.H_THROTTLE],
        )  # fmt: skip
        derivative(x, model, inputs, work, TARGETS, work.k2)
        rho = air_density(row[s.H_UP], model.env[k.E_ELEVATION], model.env[k.E_WARMER])
        seen.append(_lanes(work.lanes, work.spots, model, 0.5 * rho))
        force_up.append(-work.loads[k.L_FZ])
    pressure, normal, chordwise, gone = np.stack(seen, axis=1)
    return StripFlow(
        model=model,
        rows=rows,
        pressure=pressure,
        normal=normal,
        chordwise=chordwise,
        gone=gone,
        force_up=np.array(force_up),
    )


def _lanes(lanes: Floats, spots: np.ndarray, model: Model, half_rho: float) -> Floats:
    """Return pressure [Pa], coefficients and share gone of strips (4, n).

    As `sim.core.loads.strips._block_forces` puts them together.
    """
    o, row = spots[lane.SPOT_LANE], spots[lane.SPOT_ROW]
    gone, delta = lanes[o + lane.K_GONE], lanes[o + lane.K_DELTA]
    attached = 1.0 - gone
    root = 0.5 * (1.0 + np.sqrt(attached))
    excess = (root * root - 0.25) / 0.75 - lanes[row + G0]
    along = 1.0 - np.abs(S_FIRST + lanes[o + lane.K_PLACE] / NODES_PER_UNIT)
    late = gone * delta * along
    late *= lanes[o + lane.K_LATE_CN] + np.abs(along) * lanes[o + lane.K_LATE_CN2]
    return np.array(
        [
            half_rho * lanes[o + lane.K_SPEED] ** 2 * model.strips[k.S_FORCE],
            lanes[row + CN] + excess * lanes[row + DCN] + late,
            lanes[row + CC] + excess * lanes[row + DCC],
            gone,
        ]
    )
