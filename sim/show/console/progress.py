"""What a long job is doing: a moving line on a terminal, plain lines now and then anywhere else."""

import sys
import threading
import time
from collections.abc import Callable, Collection
from contextlib import AbstractContextManager
from pathlib import Path
from types import TracebackType
from typing import ClassVar, Self

from rich.console import Console
from rich.progress import (
    BarColumn,
    MofNCompleteColumn,
    Progress,
    ProgressColumn,
    Task,
    TextColumn,
    TimeRemainingColumn,
)
from rich.text import Text

from sim.fly.warming import compiling_text, is_cold
from sim.study.flights.watch import Watch

COMPILING = compiling_text()
WAITING = "waiting for workers"
EVERY_S = 15.0  # between two plain lines, where there is no terminal


class _Line(AbstractContextManager["_Line"]):
    """A line on standard error while something is done, hidden unless that is a terminal.

    Elsewhere it is said once, however often a run has something to compile.
    """

    said: ClassVar[bool] = False

    def __init__(self, text: str, *columns: ProgressColumn, cold: bool = False, hidden: bool = False
                 ) -> None:  # fmt: skip
        """Prepare a line of columns; where it is ``cold``, compiling comes before the text."""
        self._terminal = sys.stderr.isatty()
        self._cold = cold
        self._bar = Progress(
            *columns,
            console=Console(stderr=True),
            transient=True,
            disable=hidden or not self._terminal,
        )
        self._task = self._bar.add_task(COMPILING if cold else text, total=None)

    def __enter__(self) -> Self:
        """Show the line."""
        if self._cold and not self._terminal and not _Line.said:
            _Line.said = True
            print(COMPILING, file=sys.stderr, flush=True)
        self._bar.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Take the line away."""
        if (
            not self._bar.disable
        ):  # before 15, rich ends a line that was never shown with an empty one
            self._bar.stop()


class _Count(ProgressColumn):
    """How many flights have ended, of how many where that is known; seconds of compiling."""

    def render(self, task: Task) -> Text:
        """Return "40 of 128 flights", "40 flights so far" or "12 s"."""
        if task.description in (COMPILING, WAITING):
            return Text(f"{task.elapsed or 0.0:.0f} s")
        done = f"{task.completed:.0f}"
        if task.total is None:
            return Text(f"{done} flights so far")
        return Text(f"{done} of {task.total:.0f} flights")


class _Where(ProgressColumn):
    """On what is flown, which may change: "on 3 workers"."""

    def __init__(self, where: Callable[[], str]) -> None:
        super().__init__()
        self._where = where

    def render(self, task: Task) -> Text:
        """Return it."""
        return Text(self._where())


class Compiling(_Line):
    """Says so where what is done inside must first be compiled; else nothing is seen."""

    def __init__(self, kernel: str) -> None:
        """Look whether ``kernel``, one of those in `sim.fly.warming`, has been compiled."""
        cold = is_cold(kernel)
        super().__init__(
            "", TextColumn("{task.description}:"), _Count(), cold=cold, hidden=not cold
        )


class _Bar(_Line):
    """A line with a bar, a count, and the time left."""

    def __init__(
        self, text: str, count: ProgressColumn, *more: ProgressColumn, cold: bool = False
    ) -> None:
        """Prepare a bar beside a text."""
        told, bar = TextColumn("{task.description}"), BarColumn(bar_width=30)
        super().__init__(text, told, bar, count, *more, TimeRemainingColumn(), cold=cold)


class StudyProgress(_Bar):
    """Shows how a study goes; ``watch`` is what the study is given."""

    def __init__(self, elsewhere: bool = False) -> None:
        """Prepare a bar of flights; ``elsewhere``, workers are waited for before them.

        ``where`` may be set to what returns on what they are flown.
        """
        self.where: Callable[[], str] = str
        more = (_Where(lambda: self.where()),) if elsewhere else ()
        super().__init__(WAITING if elsewhere else "flying", _Count(), *more, cold=is_cold())
        self.watch = Watch(
            planned=self._planned, left_out=self._left_out, ended=self._ended, said=self._said,
            damaged=self._damaged,
        )  # fmt: skip
        self._odd: set[Path] = set()
        self._plain = _Plain()
        self._over = threading.Event()

    def __enter__(self) -> Self:
        """Show the line; without a terminal, tell also where nothing is flown for long."""
        super().__enter__()
        if not self._terminal:
            threading.Thread(target=self._now_and_then, daemon=True).start()
        return self

    def _now_and_then(self) -> None:
        while not self._over.wait(EVERY_S):
            self._plain.tell(self._now)

    @property
    def _now(self) -> Task:
        return next(x for x in self._bar.tasks if x.id == self._task)

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Take the line away; say which kept flights were damaged."""
        self._over.set()
        super().__exit__(kind, error, trace)
        if self._odd:
            print(damaged_text(self._odd), file=sys.stderr, flush=True)

    def tell(self, text: str) -> None:
        """Say something on a line of its own, above the moving one."""
        self._bar.console.print(text, markup=False, highlight=False, soft_wrap=True)

    def _damaged(self, path: Path) -> None:
        self._odd.add(path)

    def _planned(self, flights: int) -> None:
        first = self._now.description in (COMPILING, WAITING)
        text = "flying" if first else self._now.description
        self._bar.update(self._task, total=flights, description=text)

    def _left_out(self, flights: int) -> None:
        if self._now.total is not None:
            self._bar.update(self._task, total=self._now.total - flights)

    def _ended(self, flights: int) -> None:
        self._bar.advance(self._task, flights)
        if not self._terminal:
            self._plain.ended(self._now, flights)

    def _said(self, text: str) -> None:
        # a search cannot know beforehand how many flights it will take, and a task that has
        # had a total never loses it: it gets a line of its own
        self._bar.remove_task(self._task)
        self._task = self._bar.add_task(text, total=None)
        if not self._terminal:
            self._plain.tell(self._now)


class _Plain:
    """Plain lines on standard error, no oftener than every `EVERY_S`: flights flown, seconds."""

    def __init__(self) -> None:
        self._began = self._last = time.monotonic()
        self._flights = 0

    def ended(self, task: Task, flights: int) -> None:
        """Count flights, and say so if it is time to."""
        self._flights += flights
        self.tell(task)

    def tell(self, task: Task) -> None:
        """Say what is flown, if it is time to."""
        now = time.monotonic()
        if now - self._last < EVERY_S:
            return
        self._last = now
        here = ""
        if task.total is not None:  # of what is flown now, not of all
            here = f", {task.completed:.0f} of at most {task.total:.0f}"
        flown = f"{here}; {self._flights} flights so far" if self._flights else here
        what = "compiling" if task.description == COMPILING else task.description
        print(f"{now - self._began:.0f} s: {what}{flown}", file=sys.stderr, flush=True)


def damaged_text(paths: Collection[Path]) -> str:
    """Return how many files of kept flights were damaged, and where."""
    first = min(paths)
    if len(paths) == 1:
        return f"{first}: was damaged or cut short; its flights are flown again"
    folder = first.parent
    return f"{folder}: {len(paths)} files were damaged or cut short; their flights are flown again"


class StopProgress(_Bar):
    """Shows how many steps of a long job are done; ``watch`` is what the job is given."""

    def __init__(self, text: str = "looking for steady spins") -> None:
        """Prepare a bar of steps."""
        super().__init__(text, MofNCompleteColumn())

    def watch(self, done: int, total: int) -> None:
        """Show the steps done, of all."""
        self._bar.update(self._task, completed=done, total=total)
