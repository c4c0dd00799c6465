"""Wording of hints: the nearest valid name, and a list of what there is."""

import difflib
from collections.abc import Iterable


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
