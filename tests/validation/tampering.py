"""Changing the program for a while, without touching its files.

A function is replaced wherever a module of the program or of these checks holds it by
name; a table, by replacing the function of `sim.tables` that returns it. Compiled kernels are left
alone: they see changed arrays. What the program remembers of earlier results (every
``lru_cache``) is forgotten on the way in and on the way out.
"""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
from pydantic import BaseModel

from sim import tables

OURS = ("sim", "tests")


def modules() -> list[ModuleType]:
    """Return the loaded modules of the program and its tests."""
    return [m for name, m in list(sys.modules.items()) if name.split(".")[0] in OURS]


def forget() -> None:
    """Clear what every module of ours remembers."""
    for module in modules():
        for value in list(vars(module).values()):
            if callable(clear := getattr(value, "cache_clear", None)):
                clear()


@contextmanager
def replaced(original: Callable, substitute: Callable) -> Iterator[None]:
    """Put a function in another's place wherever it is held by name.

    Raises
    ------
    LookupError
        If no module holds it, so that nothing would change.
    """
    held = [
        (module, name)
        for module in modules()
        for name, value in list(vars(module).items())
        if value is original
    ]
    if not held:
        raise LookupError(f"no module holds {original}")
    forget()
    try:
        for module, name in held:
            setattr(module, name, substitute)
        yield
    finally:
        for module, name in held:
            setattr(module, name, original)
        forget()


def named(module: str, name: str) -> Callable:
    """Return a function of the program by its module and its name."""
    return getattr(import_module(module), name)


@contextmanager
def passed_on(module: str, name: str, change: Callable[[Any], Any]) -> Iterator[None]:
    """Change what a function returns."""
    original = named(module, name)

    def changed(*args: Any, **kwargs: Any) -> Any:
        return change(original(*args, **kwargs))

    with replaced(original, changed):
        yield


def scaled(value: Any, factor: float, last: float | None = None) -> Any:
    """Return a value with every number in it multiplied, whole numbers and text left alone.

    From the first to the last of a list or column the factor goes to ``last``, if given.
    """
    end = factor if last is None else last
    if isinstance(value, dict):
        return {key: scaled(part, factor, last) for key, part in value.items()}
    if isinstance(value, BaseModel):
        return value.model_copy(update=scaled(dict(value), factor, last))
    if isinstance(value, tuple):
        steps = np.linspace(factor, end, len(value)).tolist()
        return tuple(scaled(part, step) for part, step in zip(value, steps, strict=True))
    if isinstance(value, np.ndarray) and value.dtype.kind == "f":
        return (value.T * np.linspace(factor, end, len(value))).T if value.ndim else value * factor
    return value * factor if isinstance(value, float) else value


@contextmanager
def table_changed(name: str, keys: tuple[str, ...], change: Callable[[Any], Any]) -> Iterator[None]:
    """Change keys of a TOML table, or columns of a CSV table, of aero_tables.

    Raises
    ------
    KeyError
        If the table has no such key.
    """
    reader = getattr(tables, Path(name).stem.split("_sand80")[0])
    table = reader()
    missing = [key for key in keys if not hasattr(table, key)]
    if missing:
        raise KeyError(f"{name} has no {', '.join(missing)}")
    new = {key: change(getattr(table, key)) for key in keys}
    # not checked again, so that a change may go beyond what a file may hold
    changed = table.model_copy(update=new) if name.endswith(".toml") else table._replace(**new)
    with replaced(reader, lambda: changed):
        yield
