"""``aftlimit weigh``: mass, balance point and inertia."""

import argparse
from dataclasses import replace

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.setting_up import setup_of
from sim.describe import load_aeroplane
from sim.fly import warming
from sim.pack.assemble import assemble, power_fit_of
from sim.pack.unknowns import unknowns
from sim.power.bench_words import fit_notes
from sim.record.models.weigh import weigh_record
from sim.show.console.aeroplane.bench import reach_tables, weigh_tables
from sim.show.console.aeroplane.senses import sense_tables
from sim.show.console.aeroplane.throws import throw_tables
from sim.show.console.aeroplane.unknowns import unknown_tables
from sim.show.console.console import doubtful, show
from sim.show.console.progress import Compiling
from sim.show.words.bench.throws import throws_of
from sim.trim.senses import sense_lines, senses
from sim.weigh import weigh_set_up
from sim.weigh.plausible import doubts
from sim.weigh.reach import pack_reach


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json")
    aeroplane = load_aeroplane(args.aeroplane)
    setup = setup_of(aeroplane, args)
    weighed = weigh_set_up(aeroplane, setup)
    with Compiling(warming.LEVEL_TRIM):
        fit = power_fit_of(aeroplane)
        controls = senses(assemble(aeroplane, setup))
    weighed = replace(weighed, notes=(*weighed.notes, *fit_notes(fit)))
    slips = [*sense_lines(controls), *weighed.doubts, *doubts(aeroplane, weighed)]
    open_ = unknowns(fit.aeroplane, weighed, aeroplane.measured)
    reach = [pack_reach(aeroplane, weighed.setup, pack) for pack in aeroplane.packs]
    told = [
        *weigh_tables(weighed),
        *reach_tables(reach),
        *throw_tables(throws_of(aeroplane, weighed.setup)),
        *sense_tables(controls),
        *unknown_tables(open_),
    ]
    show([*told, *doubtful(slips)])
    write_asked_json(args, weigh_record(weighed, controls, open_, reach))
    return DONE
