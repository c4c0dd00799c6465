"""``aftlimit trim --spin``: steady spins, at one place or along a map."""

import argparse

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.pictures import draw_spin_map
from sim.commands.setting_up import assembled, setup_of
from sim.describe import Script, load_aeroplane, load_script
from sim.fly import warming
from sim.record.models.spins import map_record, spin_record
from sim.show.console.aeroplane.spins import map_tables, spin_tables
from sim.show.console.console import show
from sim.show.console.progress import Compiling, StopProgress
from sim.spin.mapped import map_towards, spin_map
from sim.spin.paths import read_sticks
from sim.spin.roots import Sticks, balance_of, held_at, spin_roots, sticks_of


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json", "out")
    asked = _held(args.sticks)
    sticks = sticks_of(asked)
    if (args.from_mm is None) != (args.to_mm is None):
        raise ValueError("--from-mm and --to-mm: give both, or neither")
    if args.from_mm is not None or args.towards is not None:
        return _map(args, asked)
    if args.out is not None or args.step_mm is not None:
        raise ValueError("--out and --step-mm: only for a map; add --from-mm and --to-mm")
    with Compiling(warming.LEVEL_TRIM):
        ready = assembled(args)
        held = held_at(ready, sticks)
        roots = spin_roots(balance_of(ready, held))
    show(spin_tables(ready, held, roots))
    write_asked_json(args, spin_record(held, roots, ready.stall))
    return DONE


def _held(text: str | None) -> Script | Sticks:
    """Return the sticks asked for, or the script whose last ones are."""
    if text is not None and "," in text:
        return read_sticks(text)
    return load_script("spin_entry" if text is None else text)


def _map(args: argparse.Namespace, asked: Script | Sticks) -> int:
    """Find steady spins along the balance point, or along sticks moved to a recovery."""
    if args.towards is not None and args.from_mm is not None:
        raise ValueError("--towards and --from-mm: a map goes along one of them")
    with StopProgress() as progress:
        if args.towards is None:
            aeroplane = load_aeroplane(args.aeroplane)
            mapped = spin_map(
                aeroplane, setup_of(aeroplane, args), asked, from_mm=args.from_mm,
                to_mm=args.to_mm, step_mm=args.step_mm, watch=progress.watch,
            )  # fmt: skip
        else:
            goal = sticks_of(_held(args.towards))
            mapped = map_towards(assembled(args), sticks_of(asked), goal, progress.watch)
    show(map_tables(mapped))
    if args.out is not None:
        print(draw_spin_map(mapped, args.out))
    write_asked_json(args, map_record(mapped))
    return DONE
