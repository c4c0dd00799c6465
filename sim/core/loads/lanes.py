"""Strips laid out in blocks of lanes, so that the compiler works on several at once.

A block holds LANES strips of one surface: for each quantity LANES numbers side by side,
constants first, then scratch. Everything a block needs lies at a fixed distance from its
beginning, which lets the compiler see that writes never meet reads; with arrays of free
shape it cannot, and falls back to one strip at a time. Lanes without a strip have no
area, no axes, and the state of attached flow, so they add nothing.

Positions enter only as moments of unit forces: (omega x r) . c = omega . (r x c), and the
moment of a force along c is the same r x c.
"""

import numpy as np

from sim.core import kernel
from sim.core.layout import (
    S_AHEAD,
    S_AREA,
    S_CHORD,
    S_CX,
    S_CY,
    S_CZ,
    S_DCM,
    S_DELAY,
    S_EDGE_SIDE,
    S_ETA,
    S_FLAP_FELT,
    S_FLAP_STALL,
    S_FORCE,
    S_FRAC,
    S_FRAC_X,
    S_HALF_Y,
    S_HALF_Z,
    S_HELP,
    S_INDUCED,
    S_LATE_CM,
    S_LATE_CN,
    S_LATE_CN2,
    S_MOVES,
    S_NX,
    S_NY,
    S_NZ,
    S_RELAX,
    S_RX,
    S_RY,
    S_RZ,
    S_SIDESLIP_STALL,
    S_TAU,
    S_TILT,
    S_TWIST,
    SI_CHANNEL,
    SI_SURFACE,
    SI_TABLE,
)
from sim.core.loads.lookup import N_COLUMNS

LANES = 4  # strips side by side: one vector register of most processors

# Where each quantity begins within a block: constants of the strip ...
(
    K_X,
    K_Y,
    K_Z,
    K_CX,  # chord axis c
    K_CY,
    K_CZ,
    K_NX,  # normal axis n
    K_NY,
    K_NZ,
    K_RCX,  # r x c
    K_RCY,
    K_RCZ,
    K_RNX,  # r x n
    K_RNY,
    K_RNZ,
    K_PX,  # chord x (c x n): moment of a unit moment coefficient
    K_PY,
    K_PZ,
    K_AREA,  # of circulation: a swept strip's chord across itself is shorter by the cosine
    K_FORCE,  # area x factor on forces
    K_ETA,
    K_FRAC,  # 0 without a servo, as are the next nine
    K_FRAC_X,
    K_TILT,  # tilt of attached force beyond it, per radian
    K_EXTRA,  # effective angle of attached flow beyond that of separated flow, per radian
    K_DCM,
    K_MOVES,
    K_LATE_CN,
    K_LATE_CN2,
    K_LATE_CM,
    K_FLAP_STALL,
    K_FLAP_FELT,  # what of it is lost with the square of the attached share
    K_PER_RELAX,  # 1 / (tau1 [chords] x chord [m])
    K_DELAY,  # tau2 [chords] x chord [m]
    K_SIDESLIP_STALL,
    K_EDGE_SIDE,  # part of the chord axis to the right that separation does not answer to
    K_HELP,
    K_HELP_SIDE,  # the same on the right, less it on the left
    K_HALF_Y,  # half of the strip across the stream
    K_HALF_Z,
    K_PER_HALF,  # 1 / its square
    K_TWIST,
    K_INDUCED,
    K_AHEAD,
    K_INNER,  # weight of the strip in the separated fraction; 1 in all
    K_INNER_SIDE,  # the same on the right, less it on the left
    # ... and scratch
    K_STATE,  # attached fraction, as it stands in the state vector
    K_GONE,  # separated fraction, 0 to 1
    K_DELTA,  # deflection [rad]
    K_A0,  # air along c and n, before twist and deflection
    K_B0,
    K_SLIPSTREAM,  # mean speed of slipstreams over the strip, along the body
    K_SPEED,  # in the plane of the section
    K_PLACE,  # where in the table
    K_ALONG,  # share of the air's speed along the chord that wakes leave
    K_ACROSS,  # and of that across it
    K_MASK,  # 1 where the wake at hand can lie
    K_ANSWERED,  # where in the table its separation finds what it answers to
    K_RATE,  # rate of the attached fraction
    K_ROW,  # what the table says there: its columns side by side, lane after lane
) = range(0, 60 * LANES, LANES)
BLOCK = K_ROW + LANES * N_COLUMNS

SPOT_LANE, SPOT_ROW, SPOT_CHANNEL, SPOT_TABLE, N_SPOTS = range(5)  # rows of ``spots``
MET_BLOCK, MET_SOURCE, N_MET = range(3)  # columns of ``met``


@kernel
def _first_blocks(index, n_surface):
    """Return the first block of each surface, the end last (m + 1,), and the lane of each strip.

    Numbers without unit. Own: how the blocks are laid out.
    """
    n = index.shape[1]
    place = np.zeros(n, np.int64)
    first = np.zeros(n_surface + 1, np.int64)
    for j in range(n_surface):
        strips = 0
        for i in range(n):
            if index[SI_SURFACE, i] == j:
                place[i] = (first[j] + strips // LANES) * BLOCK + strips % LANES
                strips += 1
        first[j + 1] = first[j] + (strips + LANES - 1) // LANES
    return first, place


@kernel
def _fill_lane(strips, servo, i, o, lanes):
    """Fill the constants of strip ``i`` into the lane at ``o``.

    Lengths in m, areas in m2, angles in rad. Own: r x c and r x n once instead of at each
    evaluation.
    """
    x, y, z = strips[S_RX, i], strips[S_RY, i], strips[S_RZ, i]
    cx, cy, cz = strips[S_CX, i], strips[S_CY, i], strips[S_CZ, i]
    nx, ny, nz = strips[S_NX, i], strips[S_NY, i], strips[S_NZ, i]
    chord = strips[S_CHORD, i]
    lanes[o + K_X], lanes[o + K_Y], lanes[o + K_Z] = x, y, z
    lanes[o + K_CX], lanes[o + K_CY], lanes[o + K_CZ] = cx, cy, cz
    lanes[o + K_NX], lanes[o + K_NY], lanes[o + K_NZ] = nx, ny, nz
    lanes[o + K_RCX] = y * cz - z * cy
    lanes[o + K_RCY] = z * cx - x * cz
    lanes[o + K_RCZ] = x * cy - y * cx
    lanes[o + K_RNX] = y * nz - z * ny
    lanes[o + K_RNY] = z * nx - x * nz
    lanes[o + K_RNZ] = x * ny - y * nx
    # strips are cut along the stream, and what lies aft of the quarter chord lies there at the same
    # span: of the moment about the strip's own swept line only the part across the stream is one
    lanes[o + K_PX] = 0.0
    lanes[o + K_PY] = -chord * cx * nz
    lanes[o + K_PZ] = chord * cx * ny
    lanes[o + K_AREA] = strips[S_AREA, i] * cx
    lanes[o + K_FORCE] = strips[S_AREA, i] * strips[S_FORCE, i]
    lanes[o + K_ETA] = strips[S_ETA, i]
    if servo:
        lanes[o + K_FRAC] = strips[S_FRAC, i]
        lanes[o + K_FRAC_X] = strips[S_FRAC_X, i]
        lanes[o + K_TILT] = strips[S_TILT, i] - strips[S_FRAC, i]
        lanes[o + K_MOVES] = strips[S_MOVES, i]
        lanes[o + K_EXTRA] = strips[S_TAU, i] - strips[S_MOVES, i]
        lanes[o + K_LATE_CN] = strips[S_LATE_CN, i]
        lanes[o + K_LATE_CN2] = strips[S_LATE_CN2, i]
        lanes[o + K_LATE_CM] = strips[S_LATE_CM, i]
        lanes[o + K_DCM] = strips[S_DCM, i]
        lanes[o + K_FLAP_STALL] = strips[S_FLAP_STALL, i] - strips[S_FLAP_FELT, i]
        lanes[o + K_FLAP_FELT] = strips[S_FLAP_FELT, i]
    lanes[o + K_PER_RELAX] = 1.0 / (strips[S_RELAX, i] * chord)
    lanes[o + K_DELAY] = strips[S_DELAY, i] * chord
    lanes[o + K_SIDESLIP_STALL] = strips[S_SIDESLIP_STALL, i]
    lanes[o + K_EDGE_SIDE] = strips[S_EDGE_SIDE, i]
    lanes[o + K_HELP] = strips[S_HELP, i]
    lanes[o + K_HELP_SIDE] = strips[S_HELP, i] * (1.0 if y >= 0.0 else -1.0)
    half_y, half_z = strips[S_HALF_Y, i], strips[S_HALF_Z, i]
    lanes[o + K_HALF_Y], lanes[o + K_HALF_Z] = half_y, half_z
    half2 = half_y * half_y + half_z * half_z
    lanes[o + K_PER_HALF] = 1.0 / half2 if half2 > 0.0 else 0.0
    lanes[o + K_TWIST] = strips[S_TWIST, i]
    lanes[o + K_INDUCED] = strips[S_INDUCED, i]
    lanes[o + K_AHEAD] = strips[S_AHEAD, i]


@kernel
def _weigh_inner(index, n_surface, place, lanes):
    """Fill K_INNER and K_INNER_SIDE: area times the square of what of the span lies outside.

    Weights without unit, 1 in all. Own: fins and tails stand behind the middle of a wing.
    """
    total = np.zeros(n_surface)
    for i in range(place.size):
        outer = 1.0 - min(1.0, abs(lanes[place[i] + K_ETA]))
        lanes[place[i] + K_INNER] = abs(lanes[place[i] + K_AREA]) * (outer * outer + 1e-6)
        total[index[SI_SURFACE, i]] += lanes[place[i] + K_INNER]
    for i in range(place.size):
        lanes[place[i] + K_INNER] /= max(total[index[SI_SURFACE, i]], 1e-12)
        side = 1.0 if lanes[place[i] + K_Y] >= 0.0 else -1.0
        lanes[place[i] + K_INNER_SIDE] = side * lanes[place[i] + K_INNER]


@kernel(entry=False)
def pack_lanes(strips, index, n_surface, table_size):
    """Lay the strips out in blocks, surface by surface.

    Returns
    -------
    lanes : float array (b * BLOCK,)
    first : int array (m + 1,)
        First block of each surface; the last is the number of blocks.
    spots : int array (N_SPOTS, n)
        Of each strip its lane (quantity K of strip i is ``lanes[spots[SPOT_LANE, i] + K]``),
        where its row of the table goes, its servo channel (-1 none), and where its table
        begins in the flat tables.

    Positions in m. Own: how the blocks are laid out.
    """
    first, place = _first_blocks(index, n_surface)
    lanes = np.zeros(first[n_surface] * BLOCK)
    for b in range(first[n_surface]):
        for k in range(LANES):
            lanes[b * BLOCK + K_STATE + k] = 1.0
            lanes[b * BLOCK + K_ALONG + k] = 1.0
            lanes[b * BLOCK + K_ACROSS + k] = 1.0
    for i in range(place.size):
        _fill_lane(strips, index[SI_CHANNEL, i] >= 0, i, place[i], lanes)
    _weigh_inner(index, n_surface, place, lanes)
    spots = np.zeros((N_SPOTS, place.size), np.int64)
    for i in range(place.size):
        spots[SPOT_LANE, i] = place[i]
        spots[SPOT_ROW, i] = place[i] + K_ROW + place[i] % BLOCK * (N_COLUMNS - 1)
        spots[SPOT_CHANNEL, i] = index[SI_CHANNEL, i]
        spots[SPOT_TABLE, i] = index[SI_TABLE, i] * table_size
    return lanes, first, spots


@kernel(entry=False)
def pack_shades(pairs, n_source, spots, n_block):
    """Return which blocks can lie in which wakes, source by source, and with which lanes.

    Parameters
    ----------
    pairs : int array (j, 2)
        Strip and wake source that can meet.

    Returns
    -------
    met : int array (m, N_MET)
        Beginning of the block, and wake source.
    mask : float array (m * LANES,)
        1 for a lane that can lie in the wake, else 0.

    Numbers without unit. Own: which lanes a wake can meet is known beforehand.
    """
    lies = np.zeros((n_source, n_block, LANES))
    for j in range(pairs.shape[0]):
        o = spots[SPOT_LANE, pairs[j, 0]]
        lies[pairs[j, 1], o // BLOCK, o % BLOCK] = 1.0
    met = np.zeros((n_source * n_block, N_MET), np.int64)
    mask = np.zeros(n_source * n_block * LANES)
    m = 0
    for s in range(n_source):
        for b in range(n_block):
            meets = 0.0
            for lane in range(LANES):
                meets += lies[s, b, lane]
            if meets > 0.0:
                met[m, MET_BLOCK] = b * BLOCK
                met[m, MET_SOURCE] = s
                for lane in range(LANES):
                    mask[m * LANES + lane] = lies[s, b, lane]
                m += 1
    return met[:m].copy(), mask[: m * LANES].copy()
