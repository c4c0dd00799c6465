"""``aftlimit sketch``: the aeroplane as it was understood."""

import argparse
from pathlib import Path

from sim.commands.exit_codes import DONE
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.setting_up import assembled
from sim.fly import warming
from sim.pack.assemble import Assembled
from sim.record.models.sketch import sketch_record
from sim.show.console.aeroplane.origins import origin_tables
from sim.show.console.aeroplane.senses import sense_tables
from sim.show.console.console import doubtful, notes, show
from sim.show.console.progress import Compiling
from sim.show.drawing.canvas import save
from sim.show.figures.sketch import sketch
from sim.show.words.bench.standing import flap_and_wheels
from sim.trim.cruise import cruise_speed
from sim.trim.senses import senses
from sim.trim.trimming import level, neutral_point_pct
from sim.weigh.plausible import doubts


def neutral_point(ready: Assembled) -> float:
    """Return the stick-fixed neutral point at the usual cruise [% MAC]."""
    return neutral_point_pct(ready, level(ready, cruise_speed([ready])))[0]


def drawn(ready: Assembled, neutral_pct: float, path: Path) -> tuple[Path, Path]:
    """Draw the views at a path and the coefficients beside it; return where they are."""
    views, curves = sketch(ready, neutral_pct)
    second = path.with_name(f"{path.stem}_coefficients{path.suffix}")
    return save(views, path), save(curves, second)


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    check_outputs(args, "json", "out")
    with Compiling(warming.LEVEL_TRIM):
        ready = assembled(args)
        neutral = neutral_point(ready)
    name = args.out or f"{ready.aeroplane.name}_{ready.setup.name}.png"
    for path in drawn(ready, neutral, Path(name)):
        print(path)
    told = notes(f"{x[0].upper()}{x[1:]}." for x in flap_and_wheels(ready))
    controls = sense_tables(senses(ready))
    slips = doubtful(doubts(ready.aeroplane, ready.weighed))
    show([*told, *origin_tables(ready), *controls, *slips])
    write_asked_json(args, sketch_record(ready, neutral))
    return DONE
