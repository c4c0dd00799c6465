"""``aftlimit gains``: how much gain each axis of a gyro stands, by speed and by throttle."""

import argparse

from sim import tables
from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.pictures import draw_gains
from sim.commands.setting_up import assembled
from sim.fly import warming
from sim.gyro.advice import advice
from sim.gyro.allowed import allowed
from sim.gyro.points import points_of
from sim.gyro.unknown import loop_draws
from sim.pack.assemble import flown_spreads
from sim.record.models.gains import gains_record
from sim.show.console.aeroplane.gyro import gyro_tables
from sim.show.console.console import show
from sim.show.console.progress import Compiling, StopProgress
from sim.study.flights.draws import make_draws


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json", "picture")
    count = tables.gyro_loop().draws if args.draws is None else args.draws
    with Compiling(warming.MODES):
        ready = assembled(args)
        points = points_of(ready)
    physical = make_draws(flown_spreads(ready.aeroplane), count, args.seed).physical
    with StopProgress("closing the loops") as progress:
        found = allowed(ready, loop_draws(physical, args.seed), points, progress.watch)
    told = advice(found)
    show(gyro_tables(found, told))
    if args.picture is not None:
        print(draw_gains(found, told, args.picture))
    write_asked_json(args, gains_record(found, told))
    return DONE
