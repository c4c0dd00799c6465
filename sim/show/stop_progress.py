"""How much of a known number is done: a bar on a terminal, and nothing anywhere else."""

import sys
from contextlib import AbstractContextManager
from types import TracebackType

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn


class StopProgress(AbstractContextManager["StopProgress"]):
    """Shows how many steps of a long job are done; ``watch`` is what the job is given."""

    def __init__(self, text: str = "looking for steady spins") -> None:
        """Prepare a bar on standard error, hidden unless that is a terminal."""
        self._bar = Progress(
            TextColumn("{task.description}"),
            BarColumn(bar_width=30),
            MofNCompleteColumn(),
            TimeRemainingColumn(),
            console=Console(stderr=True),
            transient=True,
            disable=not sys.stderr.isatty(),
        )
        self._task = self._bar.add_task(text, total=None)

    def watch(self, done: int, total: int) -> None:
        """Show the steps done, of all."""
        self._bar.update(self._task, completed=done, total=total)

    def __enter__(self) -> "StopProgress":
        """Start the bar."""
        self._bar.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Take the bar away."""
        self._bar.stop()
