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

from sim.arguments import CAMERAS, build_parser

if TYPE_CHECKING:
    from sim.describe import Aeroplane, SetUp
    from sim.fly.assemble import Assembled
    from sim.fly.flying import Flight

DONE, BAD_INPUT, NOT_MET, INTERRUPTED = 0, 2, 3, 130
SPIN_ONLY = ("sticks", "from_mm", "to_mm", "step_mm", "towards", "out")  # of trim
PICTURES = ("picture", "path", "rotary", "departure", "out")  # arguments that name one


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
    from sim.judge.plausible import doubts
    from sim.show.bench_tables import weigh_tables
    from sim.show.console import doubtful, show
    from sim.show.records import weigh_json
    from sim.weigh import weigh

    aeroplane = load_aeroplane(args.aeroplane)
    weighed = weigh(aeroplane, _setup_of(aeroplane, args))
    show([*weigh_tables(weighed), *doubtful(doubts(aeroplane, weighed))])
    _write_json(args, weigh_json(weighed))
    return DONE


def _trim(args: argparse.Namespace) -> int:
    return _spin(args) if args.spin else _level(args)


def _level(args: argparse.Namespace) -> int:
    import numpy as np

    from sim.fly.criteria import criteria
    from sim.fly.scale import scale_of
    from sim.fly.tail_damping import tail_damping
    from sim.fly.trimming import level, level_at_throttle, modes, neutral_point_pct
    from sim.show.bench_tables import trim_tables
    from sim.show.console import show
    from sim.show.records import trim_json
    from sim.show.tail_tables import tail_json, tail_tables
    from sim.study.gains import cruise_speed

    given = [name for name in SPIN_ONLY if getattr(args, name) is not None]
    if given:
        raise ValueError(f"--{given[0].replace('_', '-')}: goes with --spin; add it")
    _check_outputs(args, "json", "rotary", "departure")
    ready = _assembled(args)
    if args.throttle is not None:
        trim = level_at_throttle(ready, args.throttle)
    else:
        trim = level(ready, cruise_speed([ready]) if args.speed_mps is None else args.speed_mps)
    neutral, margin = neutral_point_pct(ready, trim)
    told = criteria(ready, np.arange(0.0, 65.0, 5.0), trim.speed_mps)
    found = modes(ready, trim)
    tail, scale = tail_damping(ready), scale_of(ready)
    show([*trim_tables(ready, trim, neutral, margin, found, told), *tail_tables(tail, scale)])
    _draw_departure(args, ready)
    record = trim_json(trim, neutral, margin, ready.stall.speed_mps, found, told)
    _write_json(args, {**record, **tail_json(tail, scale)})
    return DONE


def _spin(args: argparse.Namespace) -> int:
    """Find steady spins, at one place or along a map."""
    from sim.fly.spin_roots import balance_of, held_at, spin_roots
    from sim.show.console import show
    from sim.show.spin_records import spin_json
    from sim.show.spin_tables import spin_tables

    _check_outputs(args, "json", "out")
    sticks, _ = _held_sticks(args.sticks)
    if (args.from_mm is None) != (args.to_mm is None):
        raise ValueError("--from-mm and --to-mm: give both, or neither")
    if args.from_mm is not None or args.towards is not None:
        return _spin_map(args)
    if args.out is not None or args.step_mm is not None:
        raise ValueError("--out and --step-mm: only for a map; add --from-mm and --to-mm")
    ready = _assembled(args)
    held = held_at(ready, sticks)
    roots = spin_roots(balance_of(ready, held))
    show(spin_tables(ready, held, roots))
    _write_json(args, spin_json(held, roots, ready.stall.alpha))
    return DONE


def _held_sticks(text: str | None) -> tuple[tuple[float, ...], Any]:
    """Return the sticks asked for, and the manoeuvre they are of, if any."""
    from sim.describe import load_manoeuvre
    from sim.fly.spin_paths import read_sticks
    from sim.fly.spin_roots import sticks_of

    if text is not None and "," in text:
        return read_sticks(text), None
    script = load_manoeuvre("spin_entry" if text is None else text)
    return sticks_of(script), script if script.kind == "manoeuvre" else None


def _spin_map(args: argparse.Namespace) -> int:
    """Find steady spins along the balance point, or along sticks moved to a recovery."""
    from sim.describe import load_aeroplane
    from sim.judge.mapped import map_along_balance, map_towards
    from sim.show.canvas import save
    from sim.show.console import show
    from sim.show.spin_map import spin_map_page
    from sim.show.spin_records import map_json
    from sim.show.spin_tables import map_tables
    from sim.show.stop_progress import StopProgress

    sticks, script = _held_sticks(args.sticks)
    if args.towards is not None and args.from_mm is not None:
        raise ValueError("--towards and --from-mm: a map goes along one of them")
    with StopProgress() as progress:
        if args.towards is None:
            aeroplane = load_aeroplane(args.aeroplane)
            reach = (args.from_mm, args.to_mm, args.step_mm)
            setup = _setup_of(aeroplane, args)
            mapped = map_along_balance(aeroplane, setup, sticks, script, reach, progress.watch)
        else:
            goal, _ = _held_sticks(args.towards)
            mapped = map_towards(_assembled(args), sticks, goal, progress.watch)
    show(map_tables(mapped))
    if args.out is not None:
        print(save(spin_map_page(mapped), args.out))
    _write_json(args, map_json(mapped))
    return DONE


def _draw_departure(args: argparse.Namespace, ready: Assembled) -> None:
    """Write the pictures of trim that were asked for."""
    if args.rotary is not None:
        from sim.show.canvas import save
        from sim.show.rotary_figures import rotary_page

        print(save(rotary_page(ready), args.rotary))
    if args.departure is not None:
        from sim.show.canvas import save
        from sim.show.departure_figures import departure_page

        print(save(departure_page(ready), args.departure))


def _flight(args: argparse.Namespace) -> Flight:
    """Return the flight that the arguments ask for."""
    from sim.describe import load_manoeuvre
    from sim.fly.flying import fly
    from sim.study.draws import make_draws

    if args.entry_m <= args.floor_m:
        raise ValueError(f"--entry-m {args.entry_m:g} must be above --floor-m {args.floor_m:g}")
    ready = _assembled(args)
    manoeuvre = load_manoeuvre(args.manoeuvre, script="manoeuvre")
    recovery = load_manoeuvre(args.recovery, script="recovery")
    _check_kinds(manoeuvre, recovery)
    draw = None
    if args.draw is not None:
        count = 1 << max(3, args.draw.bit_length())
        draw = make_draws(ready.spreads, count, args.seed).physical[args.draw]
    side = -1.0 if args.side == "left" else 1.0
    return fly(ready, manoeuvre, recovery, side, draw, args.entry_m)


def _fly(args: argparse.Namespace) -> int:
    from sim.judge import events_of, verdict_of
    from sim.show.console import show
    from sim.show.flight_tables import flight_tables
    from sim.show.records import fly_json, history_csv
    from sim.study.storing import write_atomically

    _check_outputs(args, "json", "history", "picture", "path")
    flight = _flight(args)
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
    if args.path is not None:
        from sim.show.canvas import save
        from sim.show.path_figure import path_figure

        title = f"{flight.assembled.aeroplane.title}: {flight.manoeuvre.title}"
        save(path_figure(flight, args.entry_m, args.floor_m, title), args.path)
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
        if name in PICTURES and path.suffix.lower() not in (".png", ".svg", ".pdf"):
            raise ValueError(f"--{name} {text}: a picture ends in .png, .svg or .pdf")


def _check_kinds(manoeuvre: Any, recovery: Any) -> None:
    """Refuse a recovery where a manoeuvre is wanted, and the other way round."""
    from sim.describe import Fault, FileFault

    for script, wanted in ((manoeuvre, "manoeuvre"), (recovery, "recovery")):
        if script.kind != wanted:
            text = f'must be "{wanted}" here; got "{script.kind}"'
            raise FileFault(f"{script.name}.toml", [Fault("kind", text)])


def _sketch(args: argparse.Namespace) -> int:
    from sim.fly.trimming import level, neutral_point_pct
    from sim.judge.plausible import doubts
    from sim.show.canvas import save
    from sim.show.console import doubtful, show
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
    show(doubtful(doubts(ready.aeroplane, ready.weighed)))
    return DONE


def _study(args: argparse.Namespace) -> int:
    from sim.describe import load_study_files
    from sim.judge.plausible import doubts
    from sim.show.console import doubtful, show
    from sim.show.phrases import time_text
    from sim.show.progress import StudyProgress
    from sim.show.replay_kept import kept_recordings, write_kept
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
    show([*study_tables(result), *doubtful(doubts(files.aeroplane))])
    write_study(result, folder)
    kept = kept_recordings(result, files)
    write_kept(kept, folder / "replay")
    report = save_report(result, files.aeroplane, folder / "report.html")
    _write_json(args, study_json(result))
    print(f"\n{time_text(result)} Report: {report}")
    return NOT_MET if result.met is False else DONE


def _replay(args: argparse.Namespace) -> int:
    from sim.show.recording import write_recording
    from sim.show.replay_cameras import VIEWS
    from sim.show.replay_gl import check_outputs, demand_drawing
    from sim.show.replay_track import Track, read_track

    check_outputs(args.still, args.movie)
    _check_outputs(args, "still", "movie", "json")
    tracks = [Track(_recording(args))]
    if args.second is not None:
        tracks.append(read_track(args.second))
    if args.json is not None:
        print(write_recording(tracks[0].told, Path(args.json)))
    files = args.still is not None or args.movie is not None
    if args.json is not None and not files:
        return DONE
    demand_drawing(window=not files)
    # imported only now: without OpenGL this library takes the process down
    from sim.show.replay_showing import open_window, write_replay

    view = VIEWS[CAMERAS.index(args.camera)]
    scale = 1.0 if args.true_size else None
    if files:
        for path in write_replay(tracks, view, scale, args.still, args.at, args.movie):
            print(path)
    else:
        open_window(tracks, view, scale)
    return DONE


def _recording(args: argparse.Namespace) -> dict[str, Any]:
    """Return the recording that the arguments name, read from its file or flown on the spot."""
    from sim.show.recording import recording
    from sim.show.replay_track import read_track

    if args.manoeuvre is None:
        if not Path(args.aeroplane).is_file():
            text = "is no file; name a recording, or an aeroplane and a manoeuvre"
            raise ValueError(f"{args.aeroplane}: {text}")
        return read_track(args.aeroplane).told
    flight = _flight(args)
    title = f"{flight.assembled.setup.title}: {flight.manoeuvre.title}; {flight.recovery.title}"
    return recording(
        flight, title, args.entry_m, args.floor_m, args.draw,
        seed=None if args.draw is None else args.seed,
    )  # fmt: skip


def _card(args: argparse.Namespace) -> int:
    from sim.show.card import make_card, recovery_of
    from sim.show.card_page import card_page
    from sim.show.card_pdf import card_pdf, front
    from sim.show.card_record import card_json
    from sim.show.console import paragraph, show
    from sim.show.progress import StudyProgress
    from sim.study import run_study
    from sim.study.ladder import fly_ladder
    from sim.study.predictions import Predictor
    from sim.study.saved import check_setup, find_flown
    from sim.study.storing import write_atomically

    _check_outputs(args, "json")
    flown = find_flown(args.study, None if args.out is None else Path(args.out))
    files = flown.files
    check_setup(files.study, args.setup)
    folder = flown.folder if args.out is None else Path(args.out)
    if folder.exists() and not folder.is_dir():
        raise ValueError(f"--out {folder}: is a file; name a folder")
    if flown.stale:
        print("The program or its tables have changed since the study; it is flown again.")
    with StudyProgress() as progress:
        result = run_study(files, flown.flights, args.workers, progress.watch)
        found = next(x for x in result.setups if x.name == args.setup)
        predictor = Predictor(files, flown.flights, args.workers, progress.watch)
        ladder = fly_ladder(files, result, found, recovery_of(found), predictor, progress.watch)
    card = make_card(files, result, found, ladder)
    first = front(card, files.aeroplane)
    page, sheet = (folder / f"card_{found.name}.{kind}" for kind in ("html", "pdf"))
    write_atomically(page, card_page(card, files.aeroplane, first.size).encode())
    write_atomically(sheet, card_pdf(card, first))
    _write_json(args, card_json(card, result, found, ladder))
    told = (card.verdict, card.order, *card.answer, card.ladder.ending)
    show([paragraph(line) for line in told])
    print(f"Card: {page} and {sheet}")
    return DONE


COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "card": _card,
    "fly": _fly,
    "replay": _replay,
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
