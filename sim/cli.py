"""The command line: one function a command, each a thin layer on the Python API.

Imports stand inside the functions, so that ``--help`` is instant. Exit codes: 0 done,
2 bad input, 3 done but the study's requirement is not met, 130 interrupted.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sim.arguments import build_parser

if TYPE_CHECKING:
    from sim.describe import Aeroplane, SetUp
    from sim.fly.assemble import Assembled

DONE, BAD_INPUT, NOT_MET, INTERRUPTED = 0, 2, 3, 130


def _setup_of(aeroplane: Aeroplane, args: argparse.Namespace) -> SetUp:
    """Return the set-up that the arguments ask for."""
    from sim.describe import resolve_setup

    setup = resolve_setup(aeroplane, args.setup)
    return setup if args.balance_mm is None else setup.at_balance(args.balance_mm)


def _assembled(args: argparse.Namespace) -> Assembled:
    """Return the aeroplane and set-up of the arguments, ready to fly."""
    from sim.describe import load_aeroplane
    from sim.fly.assemble import assemble

    aeroplane = load_aeroplane(args.aeroplane)
    return assemble(aeroplane, _setup_of(aeroplane, args))


def _write_json(args: argparse.Namespace, content: dict[str, Any]) -> None:
    """Write the JSON file, if one was asked for."""
    if args.json is not None:
        from sim.study.writing import write_json

        write_json(Path(args.json), content)


def _weigh(args: argparse.Namespace) -> int:
    from sim.describe import load_aeroplane
    from sim.show.bench_tables import weigh_tables
    from sim.show.console import show
    from sim.show.records import weigh_json
    from sim.weigh import weigh

    aeroplane = load_aeroplane(args.aeroplane)
    weighed = weigh(aeroplane, _setup_of(aeroplane, args))
    show(weigh_tables(weighed))
    _write_json(args, weigh_json(weighed))
    return DONE


def _trim(args: argparse.Namespace) -> int:
    import numpy as np

    from sim.fly.trimming import (
        departure_criteria,
        level,
        level_at_throttle,
        modes,
        neutral_point_pct,
    )
    from sim.show.bench_tables import trim_tables
    from sim.show.console import show
    from sim.show.records import trim_json
    from sim.study.gains import cruise_speed

    ready = _assembled(args)
    if args.throttle is not None:
        trim = level_at_throttle(ready, args.throttle)
    else:
        trim = level(ready, cruise_speed([ready]) if args.speed_mps is None else args.speed_mps)
    neutral, margin = neutral_point_pct(ready, trim)
    alphas = np.arange(0.0, 65.0, 5.0)
    criteria = (alphas, *departure_criteria(ready, alphas, trim.speed_mps))
    found = modes(ready, trim)
    show(trim_tables(ready, trim, neutral, margin, found, criteria))
    _write_json(args, trim_json(trim, neutral, margin, ready.stall.speed_mps, found, criteria))
    return DONE


def _fly(args: argparse.Namespace) -> int:
    from sim.describe import load_manoeuvre
    from sim.fly.flying import fly
    from sim.judge import events_of, verdict_of
    from sim.show.console import show
    from sim.show.flight_tables import flight_tables
    from sim.show.records import fly_json, history_csv
    from sim.study.draws import make_draws
    from sim.study.storing import write_atomically

    if args.entry_m <= args.floor_m:
        raise ValueError(f"--entry-m {args.entry_m:g} must be above --floor-m {args.floor_m:g}")
    _check_outputs(args, "json", "history", "picture")
    ready = _assembled(args)
    manoeuvre, recovery = load_manoeuvre(args.manoeuvre), load_manoeuvre(args.recovery)
    _check_kinds(manoeuvre, recovery)
    draw = None
    if args.draw is not None:
        count = 1 << max(3, args.draw.bit_length())
        draw = make_draws(ready.spreads, count, args.seed).physical[args.draw]
    side = -1.0 if args.side == "left" else 1.0
    flight = fly(ready, manoeuvre, recovery, side, draw, args.entry_m)
    verdict = verdict_of(flight.summary, args.entry_m, args.floor_m)
    events = events_of(flight.history, flight.summary)
    show(flight_tables(flight, verdict, events, args.entry_m, args.floor_m))
    if args.history is not None:
        write_atomically(Path(args.history), history_csv(flight).encode())
    if args.picture is not None:
        from matplotlib.figure import Figure

        from sim.show.canvas import save
        from sim.show.history import time_history

        figure = Figure(figsize=(9.0, 11.0), layout="constrained")
        time_history(figure, flight)
        save(figure, args.picture)
    flown = {name: getattr(args, name) for name in ("entry_m", "floor_m", "draw", "seed")}
    _write_json(args, fly_json(flight, verdict, events, flown))
    return DONE


def _check_outputs(args: argparse.Namespace, *names: str) -> None:
    """Refuse, before any work, an output file that could not be written."""
    for name in names:
        text = getattr(args, name)
        if text is None:
            continue
        path = Path(text)
        if path.is_dir() or (path.parent.exists() and not path.parent.is_dir()):
            raise ValueError(f"--{name} {text}: must be a file in a folder")
        if name == "picture" and path.suffix.lower() not in (".png", ".svg", ".pdf"):
            raise ValueError(f"--picture {text}: a picture ends in .png, .svg or .pdf")


def _check_kinds(manoeuvre: Any, recovery: Any) -> None:
    """Refuse a recovery where a manoeuvre is wanted, and the other way round."""
    from sim.describe import Fault, FileFault

    for script, wanted in ((manoeuvre, "manoeuvre"), (recovery, "recovery")):
        if script.kind != wanted:
            text = f'must be "{wanted}" here; got "{script.kind}"'
            raise FileFault(f"{script.name}.toml", [Fault("kind", text)])


def _sketch(args: argparse.Namespace) -> int:
    from sim.fly.trimming import level, neutral_point_pct
    from sim.show.canvas import save
    from sim.show.sketch import sketch
    from sim.study.gains import cruise_speed

    ready = _assembled(args)
    neutral, _ = neutral_point_pct(ready, level(ready, cruise_speed([ready])))
    views, curves = sketch(ready, neutral)
    name = args.out or f"{ready.aeroplane.name}_{ready.setup.name}.png"
    path = Path(name)
    second = path.with_name(f"{path.stem}_coefficients{path.suffix}")
    print(save(views, path))
    print(save(curves, second))
    return DONE


def _study(args: argparse.Namespace) -> int:
    from sim.describe import load_study_files
    from sim.show.console import show
    from sim.show.progress import StudyProgress
    from sim.show.report import save_report
    from sim.show.study_tables import study_tables
    from sim.study import run_study
    from sim.study.writing import study_json, write_study

    files = load_study_files(args.study)
    folder = Path(args.out or f"{files.study.name}_results")
    _check_outputs(args, "json")
    if folder.exists() and not folder.is_dir():
        raise ValueError(f"--out {folder}: is a file; name a folder")
    with StudyProgress() as progress:
        result = run_study(files, folder / "flights", args.workers, progress.watch)
    show(study_tables(result))
    write_study(result, folder)
    report = save_report(result, files.aeroplane, folder / "report.html")
    _write_json(args, study_json(result))
    print(f"\n{result.flights} flights in {result.seconds:.0f} s. Report: {report}")
    return NOT_MET if result.met is False else DONE


COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "fly": _fly,
    "sketch": _sketch,
    "study": _study,
    "trim": _trim,
    "weigh": _weigh,
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; return its exit code."""
    args = build_parser().parse_args(arguments)
    try:
        return COMMANDS[args.run](args)
    except KeyboardInterrupt:
        print("interrupted; what has been flown is kept, run it again to go on", file=sys.stderr)
        return INTERRUPTED
    except BrokenPipeError:
        return DONE
    except (OSError, ValueError) as error:
        print(f"aftlimit: {error}", file=sys.stderr)
        return BAD_INPUT
    except Exception as error:
        from sim.describe import FileFault

        if isinstance(error, FileFault):
            print(error, file=sys.stderr)
            return BAD_INPUT
        raise


if __name__ == "__main__":
    sys.exit(main())
