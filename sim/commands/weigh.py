"""``aftlimit weigh``: mass, balance point and inertia."""

import argparse
from dataclasses import replace

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.setting_up import setup_of
from sim.describe import load_aeroplane
from sim.pack.assemble import power_fit_of
from sim.power.bench_words import fit_notes
from sim.record.models.weigh import weigh_record
from sim.show.console.bench import weigh_tables
from sim.show.console.console import doubtful, show
from sim.weigh import weigh_set_up
from sim.weigh.plausible import doubts


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json")
    aeroplane = load_aeroplane(args.aeroplane)
    weighed = weigh_set_up(aeroplane, setup_of(aeroplane, args))
    fit = power_fit_of(aeroplane)
    weighed = replace(weighed, notes=(*weighed.notes, *fit_notes(fit)))
    show([*weigh_tables(weighed), *doubtful(doubts(aeroplane, weighed))])
    write_asked_json(args, weigh_record(weighed))
    return DONE
