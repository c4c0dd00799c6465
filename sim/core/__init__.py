"""Compiled kernels: plain numba functions on plain arrays, SI units throughout.

The disk cache of numba looks only at the file that holds a function, not at the files
of the functions it calls: an edited helper would leave its callers stale. So the cache
folder carries a hash over every source file of this package, and is set here, before
the first decorator runs.
"""

import hashlib
import os
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numba
import platformdirs

# Full fastmath would let the compiler delete NaN checks; these four do not.
FASTMATH = {"contract", "reassoc", "arcp", "nsz"}


def source_hash(folder: Path = Path(__file__).parent) -> str:
    """Return 16 hex digits over the names and contents of the package's sources.

    Parameters
    ----------
    folder : Path
        Folder whose ``*.py`` files count.
    """
    digest = hashlib.sha256(numba.__version__.encode())
    for path in sorted(folder.glob("*.py")):
        digest.update(path.name.encode())
        digest.update(path.read_bytes())
    return digest.hexdigest()[:16]


def cache_folder() -> Path:
    """Return the kernel cache of these sources: AFTLIMIT_CACHE or the user's cache folder."""
    root = os.environ.get("AFTLIMIT_CACHE") or platformdirs.user_cache_dir("aftlimit", False)
    folder = Path(root) / f"kernels-{source_hash()}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        folder = Path(tempfile.gettempdir()) / f"aftlimit-kernels-{source_hash()}"
        folder.mkdir(parents=True, exist_ok=True)
    return folder


numba.config.CACHE_DIR = str(cache_folder())


def kernel(function: Callable[..., Any]) -> Any:
    """Compile a function for the kernel: cached, no GIL, no error checks, safe fastmath."""
    return numba.njit(cache=True, nogil=True, error_model="numpy", fastmath=FASTMATH)(function)
