"""Put spreads of the build-up's own errors into the tables, all else in them left as it is."""

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from sim.written import write_atomically


def sized(lefts: Sequence[float], stalled: int) -> tuple[float, list[float]]:
    """Return a standard deviation and its shape over angle of attack.

    The shape is 1 in the band ``stalled``, or where the error is greatest if it is none there.
    """
    sd = lefts[stalled] or max(lefts) or 1.0
    return sd, [left / sd for left in lefts]


def with_sd(text: str, name: str, sd: float) -> str:
    """Return the text of uncertainty.toml with another spread of one entry.

    Raises
    ------
    ValueError
        There is not just one such entry.
    """
    return _put(text, rf'(?<=^name = "{name}"\nsd = )\S+', f"{sd:.3g}", name)


def with_shape(text: str, name: str, shape: Sequence[float]) -> str:
    """Return the text of error_model.toml with another shape of one error.

    Raises
    ------
    ValueError
        There is not just one such shape.
    """
    numbers = ", ".join(str(round(share, 2)) for share in shape)
    return _put(text, rf"(?<=^{name} = )\[.*\]", f"[{numbers}]", name)


def _put(text: str, pattern: str, new: str, name: str) -> str:
    out, count = re.subn(pattern, new, text, flags=re.MULTILINE)
    if count != 1:
        raise ValueError(f"{name}: must stand in its table once; stands there {count} times")
    return out


def write(folder: Path, lefts: Mapping[str, Sequence[float]], stalled: int) -> list[Path]:
    """Write the spreads (one a band) of each error into both tables; return their paths.

    Raises
    ------
    ValueError
        An error that a table lacks; nothing is written then.
    """
    paths = [folder / "uncertainty.toml", folder / "error_model.toml"]
    spreads, shapes = (path.read_text(encoding="utf-8") for path in paths)
    for name, some in lefts.items():
        sd, shape = sized(some, stalled)
        spreads, shapes = with_sd(spreads, name, sd), with_shape(shapes, name, shape)
    for path, text in zip(paths, (spreads, shapes), strict=True):
        write_atomically(path, text.encode())
    return paths
