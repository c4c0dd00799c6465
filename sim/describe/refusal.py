"""How a model refuses what its keys, each fine alone, say together."""

from collections.abc import Iterable

from pydantic_core import PydanticCustomError

KIND = "contradiction"


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
