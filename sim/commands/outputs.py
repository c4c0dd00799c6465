"""Files that the arguments ask for: refused before any work, or written after it."""

import argparse
from difflib import get_close_matches
from pathlib import Path
from tempfile import TemporaryFile

from sim.record.fields import Kind
from sim.record.files import write_record

PICTURES = ("picture", "path", "rotary", "departure", "out")  # arguments that name one


def check_outputs(args: argparse.Namespace, *names: str, made: Path | None = None) -> None:
    """Refuse, before any work, an output file that could not be written.

    ``made`` is a folder that the command makes itself, if it is not there.
    """
    for name in names:
        text = getattr(args, name)
        if text is None:
            continue
        path = Path(text)
        if path.is_dir() or (path.parent.exists() and not path.parent.is_dir()):
            raise ValueError(f"--{name} {text}: must be a file in a folder")
        if name in PICTURES and path.suffix.lower() not in (".png", ".svg", ".pdf"):
            raise ValueError(f"--{name} {text}: a picture ends in .png, .svg or .pdf")
        if made is None or path.parent.absolute() != made.absolute():
            _demand_folder(f"--{name} {text}", path.parent)
        _demand_room(f"--{name} {text}", path.parent)


def check_folder(folder: Path, asked: str = "--out") -> None:
    """Refuse, before any work, a file as the folder of results, or of what was ``asked``."""
    if folder.exists() and not folder.is_dir():
        raise ValueError(f"{asked} {folder}: is a file; name a folder")
    _demand_folder(f"{asked} {folder}", folder.parent)
    _demand_room(f"{asked} {folder}", folder)


def _demand_folder(asked: str, folder: Path) -> None:
    """Refuse a place in a folder that is not there: as likely as not its name is misspelt."""
    if folder.is_dir():
        return
    absolute = folder.absolute()
    there = next(x for x in absolute.parents if x.exists())
    lacking = absolute.relative_to(there).parts[0]
    near = get_close_matches(lacking, [x.name for x in there.iterdir() if x.is_dir()], n=1)
    meant = f' (did you mean "{near[0]}"?)' if near else ""
    text = f'there is no folder "{lacking}" in {there}{meant}; make it first, or name another'
    raise ValueError(f"{asked}: {text}")


def _demand_room(asked: str, folder: Path) -> None:
    """Refuse a folder, the last of it maybe still to be made, in which nothing can be written."""
    there = next(x for x in (folder, *folder.absolute().parents) if x.exists())
    try:
        with TemporaryFile(dir=there):
            pass
    except OSError:
        text = f"{asked}: nothing can be written in {there}; name another place"
        raise ValueError(text) from None


def write_asked_json(args: argparse.Namespace, record: Kind) -> None:
    """Write the record as JSON, if one was asked for."""
    if args.json is not None:
        write_record(record, Path(args.json))
