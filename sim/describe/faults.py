"""Faults of a file, all of them at once, one line each, with hints at what is meant."""

import difflib
from collections.abc import Iterable
from dataclasses import dataclass

from pydantic_core import PydanticCustomError

KIND = "contradiction"
MOST_LINES = 60


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
        """Return one line per fault; of very many, how many more there are."""
        lines = [fault.line(self.file) for fault in self.faults[:MOST_LINES]]
        more = len(self.faults) - len(lines)
        return "\n".join([*lines, *([f"{self.file}: and {more} more"] if more else [])])


def refuse(faults: Iterable[tuple[str, str]]) -> None:
    """Raise one validation error that carries every given fault; none given, do nothing.

    Parameters
    ----------
    faults : iterable of (path, text)
        Key path below the model (empty for the model itself), and what is wrong.

    Raises
    ------
    PydanticCustomError
        Of type ``contradiction`` with the faults in its context.
    """
    found = tuple(faults)
    if found:
        said = "; ".join(f"{path}: {text}" if path else text for path, text in found)
        # a template is filled with its context, so the text goes in as a value
        raise PydanticCustomError(KIND, "{said}", {"said": said, "faults": found})


def nearest(name: str, names: Iterable[str]) -> str | None:
    """Return the valid name that looks most like the given one, or None if none does.

    Parameters
    ----------
    name : str
        What was written.
    names : iterable of str
        What there is.
    """
    lowered = {n.lower(): n for n in names}
    found = difflib.get_close_matches(name.lower(), list(lowered), n=1, cutoff=0.5)
    return lowered[found[0]] if found else None


def hint(name: object, names: Iterable[str], what: str) -> str:
    """Return the second half of a message about an unknown name: nearest name, and all.

    Parameters
    ----------
    name : object
        What was written; anything but text gets no nearest name.
    names : iterable of str
        What there is.
    what : str
        The plural for the list, such as ``packs``.
    """
    known = list(names)
    if not known:
        return f"there are no {what}"
    close = nearest(name, known) if isinstance(name, str) else None
    start = f"did you mean {close!r}? " if close else ""
    return f"{start}{what}: {', '.join(known)}"
