"""Linear systems of the lattices, solved the same on any number of cores.

A library that spreads a matrix over cores adds up in another order on each number of them, and the
last bits of an aeroplane would hang on the machine. At the size of a lattice, a few hundred
unknowns, one core is also the quicker: where others are busy, two took a hundred times as long.
"""

from functools import cache

import numpy as np
from threadpoolctl import ThreadpoolController

THREADS = 1


@cache
def _libraries() -> ThreadpoolController:
    """Return what holds the number of threads of the linear algebra that is loaded."""
    return ThreadpoolController()


def solved(matrix: np.ndarray, right: np.ndarray) -> np.ndarray:
    """Return x of ``matrix`` x = ``right``, by `numpy.linalg.solve` on one thread.

    Parameters
    ----------
    matrix : float array (n, n)
    right : float array (n,) or (n, m)

    Raises
    ------
    numpy.linalg.LinAlgError
        The matrix is singular.
    """
    with _libraries().limit(limits=THREADS, user_api="blas"):
        return np.asarray(np.linalg.solve(matrix, right))
