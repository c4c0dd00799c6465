"""Where files are: bundled ones by bare name, all others by path."""

from pathlib import Path
from typing import Literal

from sim.describe.faults import Fault, FileFault
from sim.describe.words import hint

Kind = Literal["aeroplanes", "manoeuvres", "studies"]
PACKAGE = Path(__file__).resolve().parents[1]


def data_folder(name: str) -> Path:
    """Return a data folder: the repository's own beside ``sim``, or the installed copy.

    Parameters
    ----------
    name : str
        ``scenarios`` or ``aero_tables``.
    """
    beside = PACKAGE.parent / name
    # an unrelated folder of that name may lie beside an installed package
    is_repository = (PACKAGE.parent / "pyproject.toml").is_file() and beside.is_dir()
    return beside if is_repository else PACKAGE / "_data" / name


def bundled(kind: Kind) -> list[str]:
    """Return the bare names of the bundled files of one kind, in alphabetical order."""
    return sorted(path.stem for path in (data_folder("scenarios") / kind).glob("*.toml"))


def find(name: str | Path, kind: Kind, beside: Path | None = None) -> Path:
    """Return the path of a file given by bare name or by path.

    Parameters
    ----------
    name : str or Path
        A bare name, for a bundled file or one in ``beside``; or a path, known by its
        ``.toml`` or a folder in it.
    kind : str
        ``aeroplanes``, ``manoeuvres`` or ``studies``.
    beside : Path, optional
        Folder of the file that names it: looked in first, and paths start there.

    Raises
    ------
    FileFault
        If there is no such file; the message says what there is.
    """
    text = str(name)
    by_path = isinstance(name, Path) or text.endswith(".toml") or "/" in text or "\\" in text
    if by_path:
        path = Path(name) if beside is None else beside / name
        if path.is_file():
            return path
        raise FileFault(text, [Fault("", _not_at_path(path, kind))])
    choices = [data_folder("scenarios") / kind / f"{text}.toml"]
    if beside is not None:
        choices.insert(0, beside / f"{text}.toml")
    for path in choices:
        if path.is_file():
            return path
    said = f"no bundled file of this name; {hint(text, bundled(kind), kind)}"
    if Path(f"{text}.toml").is_file():
        said += f"; for the file in this folder write {text}.toml"
    raise FileFault(text, [Fault("", said)])


def _not_at_path(path: Path, kind: Kind) -> str:
    if path.is_dir():
        return "is a folder; give the file"
    said = "there is no such file"
    if path.parent.is_dir():
        there = sorted(p.name for p in path.parent.glob("*.toml"))
        if there:
            return f"{said}; {hint(path.name, there, 'in that folder')}"
    return f"{said}; {hint(path.stem, bundled(kind), f'bundled {kind}')}"
