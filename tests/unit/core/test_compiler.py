"""What is passed on, or has a way in of its own, computes what Python does."""

import subprocess
import sys

import numpy as np
import pytest
from numba.core import types

from sim.core import compiler, kernel

TAKEN = """
import sys
sys.path.insert(0, {folder!r})
from whole import whole
print(repr(whole(0.3, 5)), sum(whole.stats.cache_hits.values()))
"""
WHOLE = '''"""A kernel over one that is passed on, which has one of its own."""

from math import sin

from sim.core import kernel


@kernel
def leaf(x):
    return sin(x) * x


@kernel(passed_on=True)
def passed(x, n):
    total = 0.0
    for i in range(n):
        total += leaf(x + i)
    return total


@kernel
def whole(x, n):
    return passed(x, n) - passed(2.0 * x, 3)
'''


@kernel
def apart(x, k):
    return x + k


@kernel(passed_on=True)
def with_constants(x):
    return apart(x, 1) * apart(x, 2) * apart(x, 3)


@kernel
def with_constants_called(x):
    return with_constants(x)


@kernel
def of_an_array(x):
    return 0.5 * (1.0 + np.sqrt(x))


@kernel
def after_an_array(x):
    return of_an_array(x) + 1.0


@pytest.fixture
def whole(tmp_path):
    (tmp_path / "whole.py").write_text(WHOLE, encoding="utf-8")

    def run():
        code = TAKEN.format(folder=str(tmp_path))
        done = subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        )
        value, hits = done.stdout.split()
        return float(value), int(hits)

    return run


def test_what_is_passed_on_gives_the_same_made_and_taken_from_the_cache(whole):
    expected = sum(np.sin(0.3 + i) * (0.3 + i) for i in range(5))
    expected -= sum(np.sin(0.6 + i) * (0.6 + i) for i in range(3))
    made, found = whole()
    assert made == pytest.approx(expected, rel=1e-12)
    assert found == 0
    assert whole() == (made, 1)


def test_constants_are_compiled_once_for_all():
    assert with_constants_called(2.0) == 60.0
    if not with_constants_called.stats.cache_hits:  # from the disk it comes whole
        assert len(apart.within.overloads) == 1
    assert apart.overloads == {}  # Python has not called it


def test_what_kernels_call_has_no_machine_code_of_its_own():
    @kernel
    def part(x):
        return 0.25 * x

    @kernel
    def of_parts(x):
        return part(x) + part(2.0 * x)

    assert of_parts(4.0) == 3.0
    (inner,) = part.within.overloads.values()
    own = inner.fndesc.llvm_func_name
    assert inner.library.get_pointer_to_function(own) == 0
    linked = inner.library._get_module_for_linking()
    assert own in [one.name for one in linked.functions if not one.is_declaration]
    assert part(4.0) == 1.0  # called from Python it gets some
    (outer,) = part.overloads.values()
    assert outer.library.get_pointer_to_function(outer.fndesc.llvm_cpython_wrapper_name)


def test_what_a_function_makes_of_arguments_is_searched_once():
    looked = []

    def search(self, context, args, kws):
        looked.append(args)
        return f"{len(looked)}"

    once = compiler._asked_once(search)
    one, other = object(), object()
    numbers, text = (types.float64, types.int64), (types.float64, types.unicode_type)
    assert once(one, None, numbers, {}) == once(one, None, numbers, {}) == "1"
    assert once(other, None, numbers, {}) == "2"
    assert [once(one, None, text, {}) for _ in range(2)] == ["3", "4"]
    assert once(one, None, numbers, {"n": types.int64}) == "5"
    assert types.BaseFunction.get_call_type.__module__ == compiler.__name__


def test_python_finds_a_way_into_what_kernels_call():
    x = np.array([0.0, 1.0, 4.0])
    np.testing.assert_array_equal(after_an_array(x), [1.5, 2.0, 2.5])
    np.testing.assert_array_equal(of_an_array(x), [0.5, 1.0, 1.5])
    assert apart(1.0, 2) == 3.0


def test_what_is_closed_refuses_python_and_serves_kernels():
    @kernel
    def _inner(x):
        return 2.0 * x

    @kernel
    def outer(x):
        return _inner(x)

    with pytest.raises(TypeError, match="_inner has no way in from Python"):
        _inner(1.0)
    assert outer(1.5) == 3.0


def first_column(table, parts):
    total = 0.0
    for i in range(table.shape[0]):
        row, (shares, _) = table[i], parts
        total += row[0] * shares[i]
    return total


def test_what_borrows_gives_the_same_and_can_make_no_array():
    counting, borrowing = kernel(first_column), kernel(first_column, borrowing=True)
    table, parts = np.arange(6.0).reshape(3, 2), (np.arange(3.0), np.ones(3))

    @kernel
    def by_both(table, parts):
        return counting(table, parts), borrowing(table, parts)

    assert by_both(table, parts) == (10.0, 10.0)  # 2 x 1 and 4 x 2

    @kernel(borrowing=True)
    def makes(n):
        return np.zeros(n)[0]

    @kernel
    def asks(n):
        return makes(n)

    with pytest.raises(Exception, match="Only accept returning of array passed"):
        asks(2)


def test_a_copy_of_shared_flags_may_be_changed():
    """numba takes one to compile a part of a function otherwise."""
    flags = compiler._Flags()
    flags.forceinline = True
    flags.no_cpython_wrapper = True
    shared = flags.copy()
    assert shared == flags
    assert shared is flags.copy()
    changed = shared.copy()
    changed.forceinline = False
    assert flags.copy().forceinline
