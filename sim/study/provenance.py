"""Which files, tables and program a study was made with, by their hashes."""

import hashlib
from pathlib import Path

from sim.aero.tables import tables_folder
from sim.describe import StudyFiles
from sim.study.storing import program_hash, table_files


def file_hash(path: Path) -> str:
    """Return the SHA-256 of a file's bytes, as any checksum command prints it."""
    return hashlib.sha256(path.read_bytes()).hexdigest()


def sources_of(files: StudyFiles) -> tuple[tuple[str, str], ...]:
    """Return name and hash of the program, of each file a study names, and of each table."""
    named = [(path.name, file_hash(path)) for path in dict.fromkeys(files.paths)]
    tables = [
        (path.relative_to(tables_folder().parent).as_posix(), file_hash(path))
        for path in table_files(tables_folder())
    ]
    return (("program and tables", program_hash()), *named, *tables)
