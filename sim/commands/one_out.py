"""``aftlimit trim --one-out``: flight with one fan or propeller stopped."""

import argparse

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.setting_up import setup_of
from sim.describe import load_aeroplane
from sim.fly import warming
from sim.pack.assemble import assemble
from sim.power.stopping import lacks_a_pair
from sim.record.models.one_out import one_out_record
from sim.show.console.aeroplane.one_out import one_out_tables
from sim.show.console.console import show
from sim.show.console.progress import Compiling
from sim.trim.one_out import one_out


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json")
    aeroplane = load_aeroplane(args.aeroplane)
    lacking = lacks_a_pair(aeroplane)
    if lacking is not None:
        raise ValueError(f"--one-out: {lacking}")
    with Compiling(warming.LEVEL_TRIM):
        ready = assemble(aeroplane, setup_of(aeroplane, args))
        found = [one_out(ready, side) for side in (-1.0, 1.0)]
    show(one_out_tables(ready, found))
    write_asked_json(args, one_out_record(ready, found))
    return DONE
