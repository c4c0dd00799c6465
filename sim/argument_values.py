"""Values of the command line's options: read, held within bounds, in one unit or another."""

import argparse
from collections.abc import Callable

from sim.units.factors import UNITS

OWN_UNITS = {"mm": ("in",), "m": ("ft",), "mps": ("mph", "kmh")}  # of options, beside their own


def number(low: float, high: float, unit: str) -> Callable[[str], float]:
    """Return a reader of numbers from the command line, between two bounds."""

    def read(text: str) -> float:
        value = float(text)
        if not low <= value <= high:
            raise argparse.ArgumentTypeError(f"must be {low:g} to {high:g}{unit}; got {text}")
        return value

    return read


def number_in(low: float, high: float, suffix: str, own: str) -> Callable[[str], float]:
    """Return a reader of numbers in another unit than their option's, bounds in the option's."""
    unit, option_unit = UNITS[own], UNITS[suffix]
    least, most = option_unit.to(unit, low), option_unit.to(unit, high)
    read = number(least, most, f" {unit.symbol}")
    return lambda text: float(f"{unit.to(option_unit, read(text)):.12g}")


def measure(
    holder: argparse._ActionsContainer, name: str, bounds: tuple[float, float], text: str,
    default: float | None = None,
) -> None:  # fmt: skip
    """Add an option with a unit, ``--entry-m``, and the same in other units, ``--entry-ft``."""
    base, _, suffix = name.rpartition("-")
    dest, others = name.strip("-").replace("-", "_"), OWN_UNITS[suffix]
    if not isinstance(holder, argparse._MutuallyExclusiveGroup):
        holder = holder.add_mutually_exclusive_group()
    told = f"{text}; or {', '.join(f'{base}-{other}' for other in others)}"
    read = number(*bounds, f" {UNITS[suffix].symbol}")
    holder.add_argument(
        name, dest=dest, type=read, default=default, metavar=suffix.upper(), help=told
    )
    for other in others:
        reader = number_in(*bounds, suffix, other)
        holder.add_argument(
            f"{base}-{other}", dest=dest, type=reader, default=argparse.SUPPRESS,
            help=argparse.SUPPRESS,
        )  # fmt: skip


def index(text: str) -> int:
    """Return a whole number from zero up from the command line."""
    value = int(text)
    if not 0 <= value < 2**31:
        raise argparse.ArgumentTypeError(f"must be 0 or more; got {value}")
    return value


def pixels(text: str) -> int:
    """Return the width of a picture from the command line."""
    value = int(text)
    if not 320 <= value <= 3840:
        raise argparse.ArgumentTypeError(f"must be 320 to 3840 pixels; got {value}")
    return value


def count(text: str) -> int:
    """Return a whole number above zero from the command line."""
    value = int(text)
    if value < 1:
        raise argparse.ArgumentTypeError(f"must be at least 1; got {value}")
    return value


def study_draws(text: str) -> int:
    """Return the draws of a study from the command line: a power of two, enough for a limit."""
    value = int(text)
    if not 64 <= value <= 4096 or value & (value - 1):
        raise argparse.ArgumentTypeError(f"must be 64, 128, 256 and so on to 4096; got {value}")
    return value


def draw_count(text: str) -> int:
    """Return a number of draws from the command line: a power of two."""
    value = int(text)
    if value < 64 or value & (value - 1):
        raise argparse.ArgumentTypeError(f"must be a power of two, 64 or more; got {value}")
    return value
