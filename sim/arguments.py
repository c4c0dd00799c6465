"""What the command line takes: commands, options, and the bounds of their numbers."""

import argparse
import re
import shutil
from typing import NoReturn

from sim.argument_values import count, draw_count, index, measure, number, pixels, study_draws
from sim.units.quantities import SPEEDS, SYSTEMS
from sim.version import __version__

EPILOG = """A simulation is no proof of airworthiness. Test in steps, with height, away from
people, with a spotter; local rules, club field rules and licensed practice come first."""

WIDTH = 100  # columns, as of everything printed
PLACES = (-5000.0, 5000.0)  # mm
CAMERAS = ("ground", "behind", "above", "side")


def _aeroplane_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("aeroplane", help="name of a bundled aeroplane, or a TOML file")
    parser.add_argument("--setup", metavar="NAME", help="set-up in that file (default: its first)")
    measure(parser, "--balance-mm", PLACES, "balance it here instead, aft of the datum")
    parser.add_argument("--json", metavar="PATH", help="write the same numbers as JSON")


def _flight_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--recovery", default="centre_sticks", metavar="NAME",
        help="name of a bundled recovery, or a TOML file (default: centre_sticks)",
    )  # fmt: skip
    parser.add_argument(
        "--side", choices=("left", "right"), default="right",
        help="to which a spin is entered (default: right)",
    )  # fmt: skip
    parser.add_argument(
        "--draw", type=index, metavar="N", help="fly this draw instead of the nominal"
    )
    parser.add_argument(
        "--seed", type=index, default=1, metavar="N", help="of the draws (default 1)"
    )
    text = "height at which the manoeuvre begins (default 120 m)"
    measure(parser, "--entry-m", (1, 3000), text, 120.0)
    text = "height below which the flight counts as lost (default 40 m)"
    measure(parser, "--floor-m", (0, 2000), text, 40.0)


def _fly_arguments(parser: argparse.ArgumentParser) -> None:
    _aeroplane_arguments(parser)
    parser.add_argument("manoeuvre", help="name of a bundled manoeuvre, or a TOML file")
    _flight_arguments(parser)
    parser.add_argument(
        "--history", metavar="FILE.csv", help="write the flight, 100 lines a second"
    )
    parser.add_argument("--picture", metavar="FILE", help="draw the flight over time")
    parser.add_argument("--path", metavar="FILE", help="draw the flight's path in space")


def _trim_arguments(parser: argparse.ArgumentParser) -> None:
    _aeroplane_arguments(parser)
    how = parser.add_mutually_exclusive_group()
    measure(how, "--speed-mps", (1, 200), "default: 1.7 x stall speed")
    how.add_argument("--throttle", type=number(0, 1, ""), metavar="SHARE", help="0 to 1")
    parser.add_argument("--rotary", metavar="FILE", help="draw coefficients against turn rate")
    parser.add_argument("--departure", metavar="FILE", help="draw the departure criteria")
    parser.add_argument(
        "--one-out", action="store_true",
        help="one of several fans or propellers stopped, instead: yaw, least speed, climb",
    )  # fmt: skip
    parser.add_argument(
        "--landing", action="store_true",
        help="approach, flap, forward limit by the elevator stick, and gusts, instead",
    )  # fmt: skip
    _spin_arguments(parser)


def _power_arguments(parser: argparse.ArgumentParser) -> None:
    _aeroplane_arguments(parser)
    parser.add_argument("--picture", metavar="FILE", help="draw it against speed, or nozzle")
    parser.add_argument(
        "--nozzle", action="store_true", help="sweep the exit area of the fans' nozzles, instead"
    )
    measure(
        parser, "--cruise-mps", (1, 200), "cruise of the sweep (default: 0.7 x level top speed)"
    )


def _spin_arguments(parser: argparse.ArgumentParser) -> None:
    spin = parser.add_argument_group("steady spins (with --spin)")
    spin.add_argument(
        "--spin", action="store_true", help="every steady spin with the sticks held, instead"
    )
    spin.add_argument(
        "--sticks", metavar="WHICH", help="of a manoeuvre or recovery (default: spin_entry), or "
        "elevator,aileron,rudder in per cent, as --sticks=100,0,100"
    )  # fmt: skip
    measure(spin, "--from-mm", PLACES, "map of balance points, from")
    measure(spin, "--to-mm", PLACES, "to here, aft of the datum")
    measure(spin, "--step-mm", (0.1, 100), "apart (default 2.5 mm)")
    spin.add_argument(
        "--towards", metavar="RECOVERY", help="map of the sticks moved to this recovery's"
    )
    spin.add_argument("--out", metavar="FILE", help="draw the map")


def _replay_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "aeroplane",
        metavar="FLIGHT",
        help="a recording, as a study writes into its replay folder; or an aeroplane, with a "
        "manoeuvre to fly it through now",
    )
    parser.add_argument("manoeuvre", nargs="?", help="flown now, if FLIGHT is an aeroplane")
    parser.add_argument("--setup", metavar="NAME", help="set-up of the aeroplane")
    measure(parser, "--balance-mm", PLACES, "balance it here instead")
    _flight_arguments(parser)
    parser.add_argument("--with", dest="second", metavar="FILE.json", help="a second flight")
    parser.add_argument("--camera", choices=CAMERAS, default=CAMERAS[0], help="seen from there")
    parser.add_argument(
        "--true-size", action="store_true", help="do not draw the aeroplane larger than it is"
    )
    parser.add_argument("--still", metavar="FILE.png", help="draw one picture, open no window")
    text = "of the still (default: half-way)"
    parser.add_argument("--at", type=number(0, 600, " s"), metavar="S", help=text)
    parser.add_argument("--movie", metavar="FILE", help="write .gif or .mp4, open no window")
    text = "of the still (default 1280) or movie (768)"
    parser.add_argument("--width", type=pixels, metavar="PX", help=text)
    parser.add_argument("--json", metavar="PATH", help="write the recording, open no window")


def _gains_arguments(parser: argparse.ArgumentParser) -> None:
    _aeroplane_arguments(parser)
    text = "of what is not known (default 128)"
    parser.add_argument("--draws", type=draw_count, metavar="N", help=text)
    parser.add_argument(
        "--seed", type=index, default=1, metavar="N", help="of the draws (default 1)"
    )
    parser.add_argument("--picture", metavar="FILE", help="draw the gains against speed")


def _study_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "study",
        help="name of a bundled study, or a TOML file; of an aeroplane: today's set-up, steps aft, "
        "every pack's aft limit",
    )
    text = "height at which every manoeuvre begins, for real above the ceiling only with leave"
    _height_arguments(parser, f"{text} (default: as the study says)")
    text = "most that a case or a limit's search flies; twice as many take about twice the time"
    text += " (default: as the study says, or 256)"
    parser.add_argument("--draws", type=study_draws, metavar="N", help=text)
    parser.add_argument(
        "--out",
        metavar="FOLDER",
        help="for the results, made if its parent is there (default: NAME_results)",
    )
    parser.add_argument("--workers", type=count, metavar="N", help="threads (default: one a core)")
    parser.add_argument(
        "--cluster",
        metavar="ADDRESS",
        help="fly on the workers of the Dask scheduler there; local starts a scheduler and "
        "workers for this study",
    )
    parser.add_argument("--json", metavar="PATH", help="write results.json there as well")
    text = "print all tables here, not only what decides the answer; the report has them all"
    parser.add_argument("--whole", action="store_true", help=text)


def _height_arguments(parser: argparse.ArgumentParser, entry: str) -> None:
    """Add where manoeuvres begin, what counts as lost, and the most height there is."""
    measure(parser, "--entry-m", (1, 3000), entry)
    said = "(default: as the study or the aeroplane's field says, else"
    text = f"height below which the flight counts as lost {said} 40 m)"
    measure(parser, "--floor-m", (0, 2000), text)
    text = f"most height that law and club allow {said} 120 m)"
    measure(parser, "--ceiling-m", (1, 3000), text)


def _trace_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("picture", metavar="PICTURE", help="photo or drawing: PNG, JPEG or WebP")
    parser.add_argument("--view", required=True, choices=("top", "side"), help="seen from where")
    text = "write the page there (default: by the picture's name)"
    parser.add_argument("--page", metavar="FILE.html", help=text)
    text = "what the page saved: write it into a file, instead"
    parser.add_argument("--points", metavar="FILE.json", help=text)
    parser.add_argument(
        "--into", metavar="FILE.toml", help="aeroplane file, or the answers.toml of 'start'"
    )
    parser.add_argument("--json", metavar="PATH", help="with --points: what changed, as JSON")


def _card_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("study", help="name or TOML file of the study, or its folder of results")
    parser.add_argument("--setup", metavar="NAME", help="set-up of the study: needed")
    _height_arguments(parser, "as the study was flown with (default: as it says)")
    text = "as the study was flown with (default: as it says)"
    parser.add_argument("--draws", type=study_draws, metavar="N", help=text)
    parser.add_argument("--out", metavar="FOLDER", help="for the card (default: with the results)")
    parser.add_argument("--workers", type=count, metavar="N", help="threads (default: one a core)")
    parser.add_argument("--json", metavar="PATH", help="write the same numbers as JSON")


def _unit_arguments(parser: argparse.ArgumentParser) -> None:
    units = parser.add_argument_group("units of all that is told and drawn (not of JSON and CSV)")
    units.add_argument(
        "--units", choices=SYSTEMS, default=SYSTEMS[0],
        help="grams and millimetres (default), or ounces, inches, feet and miles an hour",
    )  # fmt: skip
    units.add_argument("--speeds", choices=SPEEDS, help="speeds in these instead")


def _start_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "name", nargs="?", help="of your aeroplane: also of its folder and its file"
    )
    parser.add_argument(
        "--template", metavar="FILE", nargs="?", const="answers.toml",
        help="write every question into FILE (answers.toml), to be filled in for --from, and end",
    )  # fmt: skip
    parser.add_argument(
        "--from", dest="answers", metavar="FILE",
        help="ask nothing: the answers are in this file (or a bundled one, such as ruler_jet)",
    )  # fmt: skip
    parser.add_argument("--no-sketch", dest="sketch", action="store_false", help="do not draw it")


class _Help(argparse.HelpFormatter):
    """Help as wide as the terminal, and never wider than what commands print."""

    def __init__(self, prog: str) -> None:
        super().__init__(prog, width=min(WIDTH, shutil.get_terminal_size().columns - 2))


class _Parser(argparse.ArgumentParser):
    """A parser that tells what is wrong in one line."""

    def error(self, message: str) -> NoReturn:
        """Print what is wrong, by its option, and leave with 2."""
        told = re.sub(r"invalid \w+ value", "invalid value", message.removeprefix("argument "))
        self.exit(2, f"{self.prog}: {told}; see {self.prog} --help\n")


def _command(
    commands: "argparse._SubParsersAction[_Parser]", name: str, text: str
) -> argparse.ArgumentParser:
    """Return the parser of one command, which tells what it does."""
    told = f"{text[0].upper()}{text[1:]}."
    parser = commands.add_parser(
        name, help=text, description=told, epilog=EPILOG, formatter_class=_Help
    )
    parser.set_defaults(run=name)
    return parser


def build_parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line."""
    parser = _Parser(
        prog="aftlimit",
        description="Says, before anyone flies, whether a modified radio-control aeroplane "
        "will depart or spin, and whether it comes back.",
        epilog=EPILOG,
        formatter_class=_Help,
    )
    parser.add_argument("--version", action="version", version=f"aftlimit {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True)

    start = _command(
        commands, "start", "ask what a pilot can measure in twenty minutes, and write a file of it"
    )
    _start_arguments(start)

    study = _command(commands, "study", "fly a study and say what comes back")
    _study_arguments(study)

    card = _command(
        commands, "card", "one page for the field, of a set-up of a study that was flown"
    )
    _card_arguments(card)

    sketch = _command(commands, "sketch", "draw the aeroplane as it was understood")
    _aeroplane_arguments(sketch)
    sketch.add_argument("--out", metavar="FILE", help="picture, .png or .svg")

    trace = _command(commands, "trace", "take the shape from a photo or drawing, by clicking on it")
    _trace_arguments(trace)

    weigh = _command(commands, "weigh", "mass, balance point and inertia")
    _aeroplane_arguments(weigh)

    text = "level trim, margins, modes, departure criteria; spins, landing, one unit out"
    trim = _command(commands, "trim", text)
    _trim_arguments(trim)

    power = _command(commands, "power", "thrust, current, top speed, endurance; nozzles")
    _power_arguments(power)

    gains = _command(commands, "gains", "how much gain each axis of a gyro stands, by speed")
    _gains_arguments(gains)

    fly = _command(commands, "fly", "fly one manoeuvre and its recovery")
    _fly_arguments(fly)

    replay = _command(commands, "replay", "watch a flight")
    _replay_arguments(replay)
    for one in commands.choices.values():
        _unit_arguments(one)
    return parser
