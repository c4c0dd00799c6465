"""Lattices are solved on one thread, so that their bits hang on no machine's number of cores."""

import numpy as np
import pytest
from threadpoolctl import threadpool_info, threadpool_limits

from sim.aero.geometry import linear_system
from sim.aero.geometry.lattice import solve, trapezoid
from sim.aero.geometry.linear_system import solved


def threads():
    """Return the threads of each linear algebra library that is loaded."""
    return {x["num_threads"] for x in threadpool_info() if x["user_api"] == "blas"}


def test_it_solves():
    matrix, x = np.array([[2.0, 1.0], [1.0, 3.0]]), np.array([[1.0, 4.0], [-2.0, 0.5]])
    assert solved(matrix, matrix @ x) == pytest.approx(x)
    assert solved(matrix, matrix @ x[:, 0]) == pytest.approx(x[:, 0])
    with pytest.raises(np.linalg.LinAlgError):
        solved(np.zeros((2, 2)), np.ones(2))


def test_one_thread_while_it_solves_and_as_many_as_before_after_it(monkeypatch):
    seen = []

    def watched(matrix, right):
        seen.append(threads())
        return right

    monkeypatch.setattr(linear_system.np.linalg, "solve", watched)
    with threadpool_limits(limits=2, user_api="blas"):
        before = threads()
        solved(np.eye(2), np.ones(2))
        assert threads() == before
    assert seen == [{1}]


def test_a_wing_has_the_same_bits_on_one_thread_and_on_two():
    wing, found = trapezoid(0.6, 0.31, 0.17, 0.4), []
    for count in (1, 2):
        with threadpool_limits(limits=count, user_api="blas"):
            found.append(solve(wing).load.tobytes())
    assert found[0] == found[1]
