"""``aftlimit power``: thrust, current, speeds and endurance; or nozzles."""

import argparse

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.pictures import draw_nozzles, draw_power
from sim.commands.setting_up import assembled
from sim.describe import load_aeroplane
from sim.fly import warming
from sim.pack.assemble import power_fit_of
from sim.record.models.power import power_record
from sim.show.console.aeroplane.power import nozzle_tables, power_tables
from sim.show.console.console import show
from sim.show.console.progress import Compiling
from sim.trim.cruise import cruise_speed
from sim.trim.nozzle import NozzleSweep, nozzle_sweep
from sim.trim.performance import Performance, performance


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    if args.cruise_mps is not None and not args.nozzle:
        raise ValueError("--cruise-mps: goes with --nozzle; add it")
    check_outputs(args, "json", "picture")
    with Compiling(warming.LEVEL_TRIM):
        ready = assembled(args)
        fit = power_fit_of(load_aeroplane(args.aeroplane))
        ready.aeroplane.demand_motor("measure")
        found = performance(ready, cruise_speed([ready]))
        sweep = _sweep(args, found) if args.nozzle else None
    show(power_tables(found, fit) if sweep is None else nozzle_tables(found, sweep))
    if args.picture is not None and sweep is None:
        print(draw_power(found, args.picture))
    elif args.picture is not None and sweep is not None:
        print(draw_nozzles(found, sweep, args.picture))
    write_asked_json(args, power_record(found, fit, sweep))
    return DONE


def _sweep(args: argparse.Namespace, found: Performance) -> NozzleSweep:
    """Return the sweep at the cruise asked for, or in the middle of ordinary flying [m/s]."""
    slow, fast = (x.speed_mps for x in found.ordinary)
    middle = 0.5 * (slow + fast)
    return nozzle_sweep(found, middle if args.cruise_mps is None else args.cruise_mps)
