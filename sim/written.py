"""Files that are there whole or not at all."""

import os
import tempfile
import time
from contextlib import suppress
from pathlib import Path

PART = ".part"  # ends the name of a file that is being written
STRAY_S = 60.0  # writing one takes a hundredth of a second


def write_atomically(path: Path, data: bytes) -> None:
    """Write a file so that it is there whole or not at all, after a power cut too.

    Raises
    ------
    OSError
        It cannot be written; names the file, and nothing is left of it.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=PART)
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, 0o644)
        os.replace(name, path)
        _sync_folder(path.parent)
    except OSError as error:
        raise OSError(error.errno, error.strerror, str(path)) from error
    finally:
        Path(name).unlink(missing_ok=True)


def _sync_folder(folder: Path) -> None:
    """Make the disk hold which files a folder has, where a system lets folders be opened."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    except OSError:  # some file systems cannot
        pass
    finally:
        os.close(handle)


def remove_strays(folder: Path) -> None:
    """Remove half-written files that a killed run left in a folder, none that may be in work."""
    for path in folder.glob(f".*{PART}"):
        with suppress(OSError):
            if time.time() - path.stat().st_mtime > STRAY_S:
                path.unlink()
