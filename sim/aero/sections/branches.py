"""Two branches of flow, attached and separated, made into one strip table."""

from math import cos
from typing import NamedTuple

import numpy as np

from sim import tables
from sim.core.loads.lookup import (
    CC,
    CM,
    CN,
    DCC,
    DCM,
    DCN,
    G0,
    N_COLUMNS,
    X0,
    alpha_of_coordinate,
    grid,
)


class Branch(NamedTuple):
    """CN, CC and CM of one kind of flow, each (N_S,) on the grid of s."""

    cn: np.ndarray
    cc: np.ndarray
    cm: np.ndarray

    def scaled(self, factor: float | np.ndarray) -> "Branch":
        """Return the branch with every coefficient times a factor [-]; by definition."""
        return Branch(self.cn * factor, self.cc * factor, self.cm * factor)

    def moved(self, shift: float) -> "Branch":
        """Return the branch with its centre of pressure moved aft by a share of the chord [-].

        By definition of the moment.
        """
        return self._replace(cm=self.cm - shift * self.cn)


def chord_share(share: np.ndarray) -> np.ndarray:
    """Return x [-] with attached_share(x) = share, for share in [0, 1]; [goman1994] backwards."""
    root = 2.0 * np.sqrt(0.25 + 0.75 * np.asarray(share)) - 1.0
    return np.clip(root * root, 0.0, 1.0)


def assemble(
    attached: Branch,
    separated: Branch,
    share: np.ndarray,
    fade: np.ndarray,
    late_share: np.ndarray | None = None,
) -> np.ndarray:
    """Return the strip table [-] of two branches, static values after [goman1994].

    Parameters
    ----------
    attached, separated : Branch
        On the grid of s.
    share : array (N_S,)
        Static attached share of the force, 0 to 1.
    fade : array (N_S,)
        1 where attached flow can exist, 0 where it cannot: there both branches are one.
    late_share : array (N_S,), optional
        Static attached share of moment and drag, where they do not follow the force.

    Returns
    -------
    array (N_S, N_COLUMNS)
        C-ordered, columns as in sim.core.loads.lookup.
    """
    table = np.empty((share.size, N_COLUMNS))
    table[:, X0] = chord_share(share)
    table[:, G0] = _kirchhoff(table[:, X0])
    for static, change, on, off in (
        (CN, DCN, attached.cn, separated.cn),
        (CC, DCC, attached.cc, separated.cc),
        (CM, DCM, attached.cm, separated.cm),
    ):
        table[:, change] = fade * (on - off)
        table[:, static] = off + table[:, G0] * table[:, change]
    if late_share is not None:
        table[:, CM] = separated.cm + late_share * table[:, DCM]
        _keep_drag(table, separated, late_share)
    return table


def blended(first: np.ndarray, second: np.ndarray, share: float) -> np.ndarray:
    """Return a table (N_S, N_COLUMNS) between two; ``share`` [-] is the second's.

    Own: a straight mean, static share anew.
    """
    table = (1.0 - share) * first + share * second
    table[:, G0] = _kirchhoff(table[:, X0])
    return table


def _kirchhoff(x: np.ndarray) -> np.ndarray:
    """Return the attached share of the force [-] at chord shares, `core.lookup.attached_share`.

    [goman1994], stretched as there.
    """
    root = 0.5 * (1.0 + np.sqrt(x))
    return (root * root - 0.25) / 0.75


def _keep_drag(table: np.ndarray, separated: Branch, late_share: np.ndarray) -> None:
    """Set the static axial force so that the drag goes with ``late_share``.

    By definition of drag [-]; where the flow begins to let go of the rear, lift is lost while the
    nose still sucks.
    """
    alpha = alpha_of_coordinate(grid())
    sin_a, cos_a = np.sin(alpha), np.cos(alpha)
    drag = separated.cn * sin_a - separated.cc * cos_a
    drag += late_share * (table[:, DCN] * sin_a - table[:, DCC] * cos_a)
    forward = cos_a > cos(tables.section_model().drag_kept_to_rad)
    table[forward, CC] = ((table[:, CN] * sin_a - drag) / cos_a)[forward]


def mirrored(table: np.ndarray) -> np.ndarray:
    """Return the table [-] of a surface without camber: its lifting half, reflected; geometry.

    Vectorised sines differ in the last bit from lane to lane; this makes left and right
    spins mirror images to the last bit.
    """
    half = table[table.shape[0] // 2 :]
    reflected = half[:0:-1].copy()
    reflected[:, [CN, CM, DCN, DCM]] *= -1.0
    half[0, [CN, CM, DCN, DCM]] = 0.0
    return np.ascontiguousarray(np.concatenate((reflected, half)))
