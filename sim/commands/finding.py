"""A command's own function, its module imported when it is asked for and not before."""

import argparse
from collections.abc import Callable
from importlib import import_module


def command(name: str) -> Callable[[argparse.Namespace], int]:
    """Return the function that runs a command."""
    run: Callable[[argparse.Namespace], int] = import_module(f"sim.commands.{name}").run
    return run
