"""``aftlimit trim --spin``: steady spins, at one place or along a map."""

import argparse

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.pictures import draw_spin_map
from sim.commands.setting_up import assembled, setup_of
from sim.describe import Manoeuvre, load_aeroplane, load_manoeuvre
from sim.fly import warming
from sim.record.spins import map_json, spin_json
from sim.show.console.console import show
from sim.show.console.progress import Compiling, StopProgress
from sim.show.console.spins import map_tables, spin_tables
from sim.spin.mapped import map_along_balance, map_towards
from sim.spin.paths import read_sticks
from sim.spin.roots import balance_of, held_at, spin_roots, sticks_of

Sticks = tuple[float, float, float, float]


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json", "out")
    sticks, _ = _held_sticks(args.sticks)
    if (args.from_mm is None) != (args.to_mm is None):
        raise ValueError("--from-mm and --to-mm: give both, or neither")
    if args.from_mm is not None or args.towards is not None:
        return _map(args)
    if args.out is not None or args.step_mm is not None:
        raise ValueError("--out and --step-mm: only for a map; add --from-mm and --to-mm")
    with Compiling(warming.LEVEL_TRIM):
        ready = assembled(args)
        held = held_at(ready, sticks)
        roots = spin_roots(balance_of(ready, held))
    show(spin_tables(ready, held, roots))
    write_asked_json(args, spin_json(held, roots, ready.stall))
    return DONE


def _held_sticks(text: str | None) -> tuple[Sticks, Manoeuvre | None]:
    """Return the sticks asked for, and the manoeuvre they are of, if any."""
    if text is not None and "," in text:
        return read_sticks(text), None
    script = load_manoeuvre("spin_entry" if text is None else text)
    return sticks_of(script), script if script.kind == "manoeuvre" else None


def _map(args: argparse.Namespace) -> int:
    """Find steady spins along the balance point, or along sticks moved to a recovery."""
    sticks, script = _held_sticks(args.sticks)
    if args.towards is not None and args.from_mm is not None:
        raise ValueError("--towards and --from-mm: a map goes along one of them")
    with StopProgress() as progress:
        if args.towards is None:
            aeroplane = load_aeroplane(args.aeroplane)
            reach = (args.from_mm, args.to_mm, args.step_mm)
            setup = setup_of(aeroplane, args)
            mapped = map_along_balance(aeroplane, setup, sticks, script, reach, progress.watch)
        else:
            goal, _ = _held_sticks(args.towards)
            mapped = map_towards(assembled(args), sticks, goal, progress.watch)
    show(map_tables(mapped))
    if args.out is not None:
        print(draw_spin_map(mapped, args.out))
    write_asked_json(args, map_json(mapped))
    return DONE
