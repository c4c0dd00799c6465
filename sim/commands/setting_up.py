"""The aeroplane and set-up that the arguments ask for."""

import argparse

from sim.describe import Aeroplane, SetUp, load_aeroplane, resolve_setup
from sim.fly.assemble import Assembled, assemble


def setup_of(aeroplane: Aeroplane, args: argparse.Namespace) -> SetUp:
    """Return the set-up that the arguments ask for."""
    setup = resolve_setup(aeroplane, args.setup)
    return setup if args.balance_mm is None else setup.at_balance(args.balance_mm)


def assembled(args: argparse.Namespace) -> Assembled:
    """Return the aeroplane and set-up of the arguments, ready to fly."""
    aeroplane = load_aeroplane(args.aeroplane)
    return assemble(aeroplane, setup_of(aeroplane, args))
