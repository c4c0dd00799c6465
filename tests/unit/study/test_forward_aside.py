"""Forward limits found beside the flights are those found when asked, and an end ends them."""

import threading
from types import SimpleNamespace

import numpy as np
import pytest

from sim.describe import load_study_files, resolve_setup
from sim.fly.flying import fly_recoveries
from sim.pack.assemble import assemble, flown_spreads
from sim.study import forward
from sim.study.flights.draws import make_draws
from tests.samples.brief import briefly

LIMIT = SimpleNamespace(aft_mm=180.0, nominal_mm=170.0, high_mm=185.0, low_mm=175.0)


@pytest.fixture(scope="module")
def files():
    return load_study_files("first_look")


@pytest.fixture(scope="module")
def ready(files):
    return [
        assemble(files.aeroplane, resolve_setup(files.aeroplane, x)) for x in files.study.setups
    ]


def test_the_same_beside_and_when_asked(files, ready, monkeypatch):
    """In the same order too: what is like another set-up is looked for once, by the first."""
    looked = []

    def of(aeroplane, setup, draws, share_pct):
        looked.append((setup.name, setup.pack))
        return LIMIT

    monkeypatch.setattr(forward, "set_up_forward", of)
    monkeypatch.setattr(forward.ForwardLimits, "opening", lambda *_: (None, None))
    found = []
    for workers in (1, 2):
        looked.clear()
        with forward.ForwardAside(files, ready, workers) as aside:
            found.append((aside.setups(), looked[: len(set(looked))]))
    assert found[0][0] == found[1][0]
    assert found[1][1][: len(found[0][1])] == found[0][1]


def test_what_has_not_begun_when_flights_end_early_is_not_looked_for(files, ready, monkeypatch):
    looked, begun, go_on = [], threading.Event(), threading.Event()

    def of(aeroplane, setup, draws, share_pct):
        looked.append(setup.name)
        begun.set()
        assert go_on.wait(20.0)
        return LIMIT

    monkeypatch.setattr(forward, "set_up_forward", of)
    monkeypatch.setattr(forward.ForwardLimits, "opening", lambda *_: (None, None))

    def flights() -> None:
        assert begun.wait(20.0)
        threading.Timer(0.2, go_on.set).start()
        raise KeyboardInterrupt

    aside = forward.ForwardAside(files, ready, 2)
    with pytest.raises(KeyboardInterrupt), aside:
        flights()
    assert len(looked) == 1


def test_what_goes_wrong_beside_is_told_when_it_is_asked_for(files, ready, monkeypatch):
    def of(aeroplane, setup, draws, share_pct):
        raise ValueError("as it happened")

    monkeypatch.setattr(forward, "set_up_forward", of)
    with (
        pytest.raises(ValueError, match="as it happened"),
        forward.ForwardAside(files, ready, 2) as aside,
    ):
        aside.setups()


def test_the_figures_are_the_same_while_flights_are_flown(files, ready, monkeypatch):
    """To the last digit, of one set-up with what may open its window left out."""
    monkeypatch.setattr(forward, "searches", lambda *_: [])
    monkeypatch.setattr(forward.ForwardLimits, "opening", lambda *_: (None, None))
    found = []
    with briefly():
        for workers in (1, 2):
            with forward.ForwardAside(files, ready[:1], workers) as aside:
                if workers == 2:
                    fly_recoveries(
                        ready[0], files.manoeuvres["throttle_chop_stall"],
                        [files.recoveries["centre_sticks"]], make_draws(flown_spreads(
                            files.aeroplane), 4, 1).physical, np.arange(4), np.ones(4), 120.0,
                    )  # fmt: skip
                found.append(aside.setups())
    assert found[0] == found[1]
    assert found[0][0].forward.aft_mm is not None
