"""``aftlimit trim``: level trim, modes, departure criteria; spins, one unit out, the landing."""

import argparse

import numpy as np

from sim.commands.exit_codes import DONE
from sim.commands.finding import command
from sim.commands.outputs import check_outputs, write_asked_json
from sim.commands.pictures import draw_departure, draw_rotary
from sim.commands.setting_up import assembled
from sim.fly import warming
from sim.pack.assemble import Assembled
from sim.record.models.trim import trim_record
from sim.show.console.aeroplane.bench import trim_tables
from sim.show.console.aeroplane.tail import tail_tables
from sim.show.console.console import show
from sim.show.console.progress import Compiling
from sim.spin.scale import scale_of
from sim.spin.tail_damping import tail_damping
from sim.trim.criteria import criteria
from sim.trim.cruise import cruise_speed
from sim.trim.trimming import Trim, level, level_at_throttle, modes, neutral_point_pct
from sim.units.quantities import SPEED

SPIN_ONLY = ("sticks", "from_mm", "to_mm", "step_mm", "towards", "out")
LEVEL_ONLY = ("speed_mps", "throttle", "rotary", "departure")


def run(args: argparse.Namespace) -> int:
    """Run the command; return its exit code."""
    asked = [name for name in ("spin", "one_out", "landing") if getattr(args, name)]
    if len(asked) > 1:
        names = " and ".join("--" + name.replace("_", "-") for name in asked)
        raise ValueError(f"{names}: give one of them")
    if args.spin:
        return command("spin")(args)
    given = [name for name in SPIN_ONLY if getattr(args, name) is not None]
    if given:
        raise ValueError(f"--{given[0].replace('_', '-')}: goes with --spin; add it")
    if args.landing or args.one_out:
        _refuse_level_only(args, asked[0])
        return command(asked[0])(args)
    return _level(args)


def _refuse_level_only(args: argparse.Namespace, asked: str) -> None:
    """Raise ValueError at an option of level trim that would be passed over."""
    given = [name for name in LEVEL_ONLY if getattr(args, name) is not None]
    if given:
        option, other = (name.replace("_", "-") for name in (given[0], asked))
        raise ValueError(f"--{option}: does not go with --{other}; leave it out")


def _level(args: argparse.Namespace) -> int:
    check_outputs(args, "json", "rotary", "departure")
    with Compiling(warming.MODES):
        ready = assembled(args)
        trim = _trim(ready, args)
        neutral, margin = neutral_point_pct(ready, trim)
        departs = criteria(ready, np.arange(0.0, 65.0, 5.0), trim.speed_mps)
        swings = modes(ready, trim)
        tail, scale = tail_damping(ready), scale_of(ready)
    show([*trim_tables(ready, trim, neutral, margin, swings, departs), *tail_tables(tail, scale)])
    if args.rotary is not None:
        print(draw_rotary(ready, args.rotary))
    if args.departure is not None:
        print(draw_departure(ready, args.departure))
    record = trim_record(ready, trim, (neutral, margin), swings, departs, (tail, scale))
    write_asked_json(args, record)
    return DONE


def _trim(ready: Assembled, args: argparse.Namespace) -> Trim:
    """Return level flight at the throttle or the speed asked for."""
    if args.throttle is not None:
        return level_at_throttle(ready, args.throttle)
    trim = level(ready, cruise_speed([ready]) if args.speed_mps is None else args.speed_mps)
    if not trim.found:
        raise ValueError(_no_level(ready, trim))
    return trim


def _no_level(ready: Assembled, trim: Trim) -> str:
    """Return why there is no level flight at a speed, and what to ask for."""
    slowest = ready.stall.speed_mps
    text = f"there is no level flight at {SPEED(trim.speed_mps, '.1f')}"
    if trim.speed_mps < slowest:
        return f"{text}: the stall is at {SPEED(slowest, '.1f')}, power off; ask for more"
    return (
        f"{text}: full throttle does not hold it, or the elevator stick does not reach; ask for "
        f"another speed, from {SPEED(slowest, '.1f')}, the stall, to what --throttle 1 holds"
    )
