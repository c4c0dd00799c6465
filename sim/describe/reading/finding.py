"""Where files are: bundled ones by bare name, all others by path."""

import re
from pathlib import Path
from typing import Literal

from sim.describe.faults import Fault, FileFault, hint

Kind = Literal["aeroplanes", "manoeuvres", "studies"]
SCRIPT_PLURALS = {"manoeuvre": "manoeuvres", "recovery": "recoveries"}
PACKAGE = Path(__file__).resolve().parents[2]


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


def bundled_scripts(script: str) -> list[str]:
    """Return the bare names of the bundled manoeuvres, or of the recoveries.

    Parameters
    ----------
    script : str
        ``manoeuvre`` or ``recovery``, as the files' own ``kind`` has it.
    """
    folder = data_folder("scenarios") / "manoeuvres"
    said = re.compile(rf'^kind\s*=\s*"{script}"', re.MULTILINE)
    return [
        name
        for name in bundled("manoeuvres")
        if said.search((folder / f"{name}.toml").read_text(encoding="utf-8"))
    ]


def find(
    name: str | Path, kind: Kind, beside: Path | None = None, script: str | None = None
) -> Path:
    """Return the path of a file given by bare name or by path.

    Parameters
    ----------
    name : str or Path
        A bare name, for a bundled file, one in ``beside`` or one in a folder of its name, as
        ``aftlimit start`` makes it; or a path, known by its ``.toml`` or a folder in it.
    kind : str
        ``aeroplanes``, ``manoeuvres`` or ``studies``.
    beside : Path, optional
        Folder of the file that names it: looked in first, and paths start there.
    script : str, optional
        ``manoeuvre`` or ``recovery``: only such are offered where there is no such file.

    Raises
    ------
    FileFault
        If there is no such file; the message says what there is.
    """
    text = str(name)
    by_path = isinstance(name, Path) or text.endswith(".toml") or "/" in text or "\\" in text
    if by_path:
        path = Path(name) if beside is None else beside / name
        for found in (path, path / f"{path.name}.toml"):
            if found.is_file():
                return found
        raise FileFault(text, [Fault("", _not_at_path(path, *_offered(kind, script)))])
    choices = [data_folder("scenarios") / kind / f"{text}.toml"]
    if beside is not None:
        choices.insert(0, beside / f"{text}.toml")
    choices.append((beside or Path()) / text / f"{text}.toml")
    for path in choices:
        if path.is_file():
            return path
    there, plural = _offered(kind, script)
    said = f"no bundled file of this name; {hint(text, there, plural)}"
    if Path(f"{text}.toml").is_file():
        said += f"; for the file in this folder write {text}.toml"
    raise FileFault(text, [Fault("", said)])


def _offered(kind: Kind, script: str | None) -> tuple[list[str], str]:
    """Return the bundled names to offer, and what they are called together."""
    if script in SCRIPT_PLURALS:
        return bundled_scripts(script), SCRIPT_PLURALS[script]
    return bundled(kind), kind


def _not_at_path(path: Path, offered: list[str], plural: str) -> str:
    if path.is_dir():
        return f"is a folder without a {path.name}.toml; give the file"
    said = "there is no such file"
    if path.parent.is_dir():
        there = sorted(p.name for p in path.parent.glob("*.toml"))
        if there:
            return f"{said}; {hint(path.name, there, 'in that folder')}"
    return f"{said}; {hint(path.stem, offered, f'bundled {plural}')}"
