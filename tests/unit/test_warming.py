"""The background compilation asks for exactly the types that flights use."""

import numba

from sim.core.batch import many_flights
from sim.fly.warming import compile_flights, finish, is_cold, like_a_model


def test_types_are_those_of_a_real_model(display_jet):
    for name, real, like in zip(
        display_jet.model._fields, display_jet.model, like_a_model(), strict=True
    ):
        assert numba.typeof(like) == numba.typeof(real), name


def test_compiling_beforehand_leaves_nothing_to_compile(display_jet):
    compile_flights()
    known = len(many_flights.signatures)
    from sim.describe import load_manoeuvre
    from sim.fly.flying import fly_many
    from sim.study.draws import make_draws

    draws = make_draws(display_jet.spreads, 8, 1)
    entry, out = load_manoeuvre("throttle_chop_stall"), load_manoeuvre("centre_sticks")
    import numpy as np

    fly_many(display_jet, entry, out, draws.physical, np.arange(1), draws.sides[:1])
    assert len(many_flights.signatures) == known
    assert not is_cold()


def test_finishing_nothing_is_nothing():
    finish(None)
