"""What a long job is doing: a moving line on a terminal, one plain line anywhere else.

The plain line is only for compiling, which comes once and takes longest.
"""

import sys
from contextlib import AbstractContextManager
from types import TracebackType

from rich.console import Console
from rich.progress import (
    BarColumn,
    MofNCompleteColumn,
    Progress,
    Task,
    TextColumn,
    TimeRemainingColumn,
)
from rich.text import Text

from sim.fly.warming import is_cold
from sim.study.study import Watch

COMPILING = "compiling the flight kernel, once on this machine, 30 to 120 s"


class _Elapsed(TextColumn):
    """Whole seconds since the start."""

    def __init__(self) -> None:
        super().__init__("")

    def render(self, task: Task) -> Text:
        """Return "12 s"."""
        return Text(f"{task.elapsed or 0.0:.0f} s")


class Compiling(AbstractContextManager["Compiling"]):
    """Says so where what is done inside must first be compiled; else nothing is seen."""

    def __init__(self, kernel: str) -> None:
        """Look whether ``kernel``, one of those in `sim.fly.warming`, has been compiled."""
        self._bar = None
        if not is_cold(kernel):
            return
        if not sys.stderr.isatty():
            print(COMPILING, file=sys.stderr, flush=True)
            return
        columns = (TextColumn("{task.description}:"), _Elapsed())
        self._bar = Progress(*columns, console=Console(stderr=True), transient=True)
        self._bar.add_task(COMPILING, total=None)

    def __enter__(self) -> "Compiling":
        """Start counting the seconds."""
        if self._bar is not None:
            self._bar.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Take the line away."""
        if self._bar is not None:
            self._bar.stop()


class _Count(TextColumn):
    """How many flights have ended, and of how many where that is known."""

    def __init__(self) -> None:
        super().__init__("")

    def render(self, task: Task) -> Text:
        """Return "40 of 128 flights", or "40 flights so far"."""
        if task.description == COMPILING:
            return Text(f"{task.elapsed or 0.0:.0f} s")
        done = f"{task.completed:.0f}"
        if task.total is None:
            return Text(f"{done} flights so far")
        return Text(f"{done} of {task.total:.0f} flights")


class StudyProgress(AbstractContextManager["StudyProgress"]):
    """Shows how a study goes; ``watch`` is what the study is given."""

    def __init__(self) -> None:
        """Prepare a bar on standard error, hidden unless that is a terminal."""
        console = Console(stderr=True)
        self._bar = Progress(
            TextColumn("{task.description}"),
            BarColumn(bar_width=30),
            _Count(),
            TimeRemainingColumn(),
            console=console,
            transient=True,
            disable=not sys.stderr.isatty(),
        )
        self._cold = is_cold()
        self._task = self._bar.add_task(COMPILING if self._cold else "flying", total=None)
        self.watch = Watch(
            planned=self._planned, left_out=self._left_out, ended=self._ended, said=self._said
        )

    def _planned(self, flights: int) -> None:
        task = next(x for x in self._bar.tasks if x.id == self._task)
        text = "flying" if task.description == COMPILING else task.description
        self._bar.update(self._task, total=flights, description=text)

    def _left_out(self, flights: int) -> None:
        task = next(x for x in self._bar.tasks if x.id == self._task)
        if task.total is not None:
            self._bar.update(self._task, total=task.total - flights)

    def _ended(self, flights: int) -> None:
        self._bar.advance(self._task, flights)

    def _said(self, text: str) -> None:
        # a search cannot know beforehand how many flights it will take, and a task that has
        # had a total never loses it: it gets a line of its own
        self._bar.remove_task(self._task)
        self._task = self._bar.add_task(text, total=None)

    def __enter__(self) -> "StudyProgress":
        """Start the bar."""
        if self._cold and not sys.stderr.isatty():
            print(COMPILING, file=sys.stderr, flush=True)
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
