"""The aeroplane, set-up and flight that the arguments ask for."""

import argparse
import sys
from typing import TYPE_CHECKING

from sim.describe import (
    Aeroplane,
    SetUp,
    load_aeroplane,
    load_manoeuvre,
    load_recovery,
    resolve_setup,
)
from sim.pack.assemble import Assembled, assemble, flown_spreads, power_fit_of
from sim.power.bench_words import unmet_lines
from sim.trim.senses import demand_senses, sense_lines, senses
from sim.units.quantities import HEIGHT

if TYPE_CHECKING:
    from sim.fly.flying import Flight


def setup_of(aeroplane: Aeroplane, args: argparse.Namespace) -> SetUp:
    """Return the set-up that the arguments ask for."""
    setup = resolve_setup(aeroplane, args.setup)
    return setup if args.balance_mm is None else setup.at_balance(args.balance_mm)


def assembled(args: argparse.Namespace, flies: bool = False) -> Assembled:
    """Return the aeroplane and set-up of the arguments, ready to fly.

    What was measured of its power and cannot be met, and what looks like a stick's or a gain's
    wrong sign, is told on the error stream; where it ``flies`` it must follow its sticks.
    """
    aeroplane = load_aeroplane(args.aeroplane)
    ready = assemble(aeroplane, setup_of(aeroplane, args))
    if flies:
        demand_senses(ready)
    for line in [*unmet_lines(power_fit_of(aeroplane)), *sense_lines(senses(ready))]:
        print(f"{aeroplane.name}.toml: {line}", file=sys.stderr, flush=True)
    return ready


def flown(args: argparse.Namespace) -> "Flight":
    """Return the flight that the arguments ask for.

    Raises
    ------
    FileFault
        The aeroplane does not follow its sticks, or what it is asked cannot be had.
    """
    from sim.fly.flying import fly_one
    from sim.study.flights.draws import make_draws

    if args.entry_m <= args.floor_m:
        entry, floor = (HEIGHT.figure(height, "g") for height in (args.entry_m, args.floor_m))
        unit = HEIGHT.suffix
        raise ValueError(f"--entry-{unit} {entry} must be above --floor-{unit} {floor}")
    ready = assembled(args, flies=True)
    manoeuvre, recovery = load_manoeuvre(args.manoeuvre), load_recovery(args.recovery)
    draw = None
    if args.draw is not None:
        count = 1 << max(3, args.draw.bit_length())
        draw = make_draws(flown_spreads(ready.aeroplane), count, args.seed).physical[args.draw]
    side = -1.0 if args.side == "left" else 1.0
    return fly_one(ready, manoeuvre, recovery, side, draw, args.entry_m)
