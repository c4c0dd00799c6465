"""``aftlimit fly``: one manoeuvre and its recovery."""

import argparse
from pathlib import Path

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.pictures import draw_history, draw_path
from sim.commands.setting_up import flown
from sim.fly import warming
from sim.fly.measured import measured
from sim.judge import events_of, verdict_of
from sim.record.carried import carried_row
from sim.record.history import history_csv
from sim.record.models.fly import fly_record
from sim.show.console.console import show
from sim.show.console.flight import flight_tables
from sim.show.console.progress import Compiling
from sim.show.console.results.structure import flight_structure_tables, passed_lines
from sim.show.words.findings.agility import flight_line
from sim.structure.flight_loads import flight_loads, stated_bending
from sim.written import write_atomically


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json", "history", "picture", "path")
    with Compiling(warming.FLIGHTS):
        flight = flown(args)
    verdict = verdict_of(flight.summary, args.entry_m, args.floor_m)
    events = events_of(flight.history, flight.summary)
    loads, limit = flight_loads(flight), stated_bending(flight.assembled)
    carried = flight_structure_tables(flight, loads, limit)
    shows = flight.manoeuvre.shows
    line = [] if shows is None else [flight_line(measured(flight)[None, :], shows)]
    headline = [*line, *passed_lines(flight, loads, limit)]
    show(flight_tables(flight, verdict, events, args.entry_m, args.floor_m, carried, headline))
    if args.history is not None:
        write_atomically(Path(args.history), history_csv(flight).encode())
    if args.picture is not None:
        draw_history(flight, args.picture)
    if args.path is not None:
        draw_path(flight, args.entry_m, args.floor_m, args.path)
    heights = (args.entry_m, args.floor_m)
    write_asked_json(
        args, fly_record(flight, events, heights, args.draw, args.seed, carried_row(loads, limit))
    )
    return DONE
