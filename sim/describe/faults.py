"""Faults of a file, all of them at once, one line each."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """One thing wrong: key path in the file (empty for the whole file), and what.

    Parameters
    ----------
    path : str
        Key path such as ``surfaces.wing.panel_span_mm``.
    text : str
        What is wrong, the value got, and what is allowed.
    """

    path: str
    text: str

    def line(self, file: str) -> str:
        """Return the fault as one line that starts with the file's name."""
        where = f"{file}: {self.path}" if self.path else file
        return f"{where}: {self.text}"


class FileFault(Exception):  # noqa: N818 - the project's word for it
    """A file, or what it asks for, cannot be used; ``str`` gives a line for each fault.

    Parameters
    ----------
    file : str
        Name of the file as the reader knows it.
    faults : iterable of Fault
        Everything found wrong with it.
    """

    def __init__(self, file: str, faults: Iterable[Fault]) -> None:
        """Gather the faults of a file, leaving out repeated ones."""
        self.file = file
        self.faults = tuple(dict.fromkeys(faults))
        super().__init__(file, self.faults)

    def __str__(self) -> str:
        """Return one line per fault."""
        return "\n".join(fault.line(self.file) for fault in self.faults)
