"""Who is told how a study goes."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Watch:
    """Who is told how a study goes: flights planned at most, flights ended, what comes next.

    ``left_out``: of the flights planned, so many are not needed after all. ``damaged``: files of
    kept flights that were no longer as written, whose flights are flown again.
    """

    planned: Callable[[int], None] = lambda _: None
    left_out: Callable[[int], None] = lambda _: None
    ended: Callable[[int], None] = lambda _: None
    said: Callable[[str], None] = lambda _: None
    damaged: Callable[[Path], None] = lambda _: None
