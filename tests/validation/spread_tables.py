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


def with_shape(text: str, name: str, below: Sequence[float], above: Sequence[float]) -> str:
    """Return the text of error_model.toml with other shapes of one error, by where the air is from.

    Raises
    ------
    ValueError
        There is not just one such shape.
    """
    head, parting, rest = text.partition("\n[from_above]\n")
    return parting.join(
        _put(part, rf"(?<=^{name} = )\[.*\]", f"[{_numbers(shape)}]", name)
        for part, shape in ((head, below), (rest, above))
    )


def _numbers(shape: Sequence[float]) -> str:
    return ", ".join(str(round(share, 2)) for share in shape)


def _put(text: str, pattern: str, new: str, name: str) -> str:
    out, count = re.subn(pattern, new, text, flags=re.MULTILINE)
    if count != 1:
        raise ValueError(f"{name}: must stand in its table once; stands there {count} times")
    return out


def write(
    folder: Path, lefts: Mapping[str, Sequence[float]], stalled: int, below: int
) -> list[Path]:
    """Write the spreads (one a band) of each error into both tables; return their paths.

    The first ``below`` of them are with the air from below, the rest with the air from above.

    Raises
    ------
    ValueError
        An error that a table lacks; nothing is written then.
    """
    paths = [folder / "uncertainty.toml", folder / "error_model.toml"]
    spreads, shapes = (path.read_text(encoding="utf-8") for path in paths)
    for name, some in lefts.items():
        sd, shape = sized(some, stalled)
        spreads = with_sd(spreads, name, sd)
        shapes = with_shape(shapes, name, shape[:below], shape[below:])
    for path, text in zip(paths, (spreads, shapes), strict=True):
        write_atomically(path, text.encode())
    return paths
