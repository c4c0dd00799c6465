"""``aftlimit trim --landing``: approach, forward limit, flap and gusts."""

import argparse

from sim import tables
from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.setting_up import assembled
from sim.describe.study import SHARE_PCT
from sim.fly import warming
from sim.landing.landing import landing_of
from sim.pack.assemble import flown_spreads
from sim.record.models.landing import landing_record
from sim.show.console.aeroplane.landing import landing_tables
from sim.show.console.console import show
from sim.show.console.progress import Compiling
from sim.study.flights.draws import make_draws

SEED = 1


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json")
    with Compiling(warming.FLIGHTS):
        ready = assembled(args)
        count = tables.landing().draws
        draws = make_draws(flown_spreads(ready.aeroplane), count, SEED).physical
        landing = landing_of(ready, draws, SHARE_PCT)
    show(landing_tables(ready, landing))
    write_asked_json(args, landing_record(ready, landing))
    return DONE
