"""``aftlimit replay``: watch a flight, or write it as a still, a movie or a recording."""

import argparse
from pathlib import Path

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs
from sim.commands.setting_up import flown
from sim.fly import warming
from sim.record.files import write_record
from sim.record.models.recording import Recording
from sim.show.console.progress import Compiling, StopProgress
from sim.show.desktop import opengl
from sim.show.desktop.cameras import CHASE, GROUND, SIDE, TOP
from sim.show.replay.recording import recording
from sim.show.replay.track import Track, read_track

VIEW_OF = {"ground": GROUND, "behind": CHASE, "above": TOP, "side": SIDE}


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    opengl.check_outputs(args.still, args.movie)
    check_outputs(args, "still", "movie", "json")
    tracks = [Track(_recording(args))]
    if args.second is not None:
        tracks.append(read_track(args.second))
    if args.json is not None:
        print(write_record(tracks[0].told, Path(args.json)))
    end = max(track.end for track in tracks)
    if args.at is not None and args.at > end:
        raise ValueError(f"--at {args.at:g}: the flight ends at {end:.2f} s")
    files = args.still is not None or args.movie is not None
    if files or args.json is None:
        _draw(args, tracks, files)
    return DONE


def _draw(args: argparse.Namespace, tracks: list[Track], files: bool) -> None:
    """Write the still and the movie, or open a window."""
    opengl.demand_drawing(window=not files)
    # imported only now: without OpenGL this library takes the process down
    from sim.show.desktop.showing import open_window, write_replay

    view = VIEW_OF[args.camera]
    scale = 1.0 if args.true_size else None
    if files:
        with StopProgress("drawing the movie") as progress:
            asked = (args.still, args.at, args.movie, args.width, progress.watch)
            paths = write_replay(tracks, view, scale, *asked)
        for path in paths:
            print(path)
    else:
        open_window(tracks, view, scale)


def _recording(args: argparse.Namespace) -> Recording:
    """Return the recording that the arguments name, read from its file or flown on the spot."""
    if args.manoeuvre is None:
        if not Path(args.aeroplane).is_file():
            text = "is no file; name a recording, or an aeroplane and a manoeuvre"
            raise ValueError(f"{args.aeroplane}: {text}")
        return read_track(args.aeroplane).told
    with Compiling(warming.FLIGHTS):
        flight = flown(args)
    title = f"{flight.assembled.setup.title}: {flight.manoeuvre.title}; {flight.recovery.title}"
    return recording(
        flight, title, args.entry_m, args.floor_m, args.draw,
        seed=None if args.draw is None else args.seed,
    )  # fmt: skip
