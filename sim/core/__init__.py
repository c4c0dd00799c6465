"""Compiled kernels: plain numba functions on plain arrays, SI units throughout.

The disk cache of numba looks only at the file that holds a function, not at the files
of the functions it calls: an edited helper would leave its callers stale. So the cache
folder carries a hash over every source file of this package, and is set here, before
the first decorator runs.
"""

import hashlib
import os
from collections.abc import Callable, Iterable
from pathlib import Path
from stat import S_ISDIR
from typing import Any

import numba
import platformdirs

from sim.core import compiler

# Full fastmath would let the compiler delete NaN checks; these four do not.
FASTMATH = {"contract", "reassoc", "arcp", "nsz"}


def hashed(folder: Path, paths: Iterable[Path], *versions: str) -> str:
    """Return 16 hex digits over the places in a folder and the contents of files.

    Parameters
    ----------
    folder : Path
        What the places are told from.
    paths : iterable of Path
        Files anywhere below it, in any order.
    versions : str
        Versions of libraries that count as well.
    """
    digest = hashlib.sha256("\0".join(versions).encode())
    named = {path.relative_to(folder).as_posix(): path for path in paths}
    for place in sorted(named):
        content = named[place].read_bytes()
        digest.update(f"\0{place}\0{len(content)}\0".encode())
        digest.update(content)
    return digest.hexdigest()[:16]


def source_hash(folder: Path = Path(__file__).parent) -> str:
    """Return 16 hex digits over numba's version and the package's sources, however deep.

    Parameters
    ----------
    folder : Path
        Folder whose ``*.py`` files count, its folders' too.
    """
    return hashed(folder, folder.rglob("*.py"), numba.__version__)


def cache_root() -> Path:
    """Return where kernel caches lie: AFTLIMIT_CACHE, or the user's cache folder."""
    told = os.environ.get("AFTLIMIT_CACHE")
    return Path(told or platformdirs.user_cache_dir("aftlimit", False)).absolute()


def cache_folder() -> Path | None:
    """Return the kernel cache of these sources, made if need be; None where none can be trusted.

    What lies in it is run, so nobody else may be able to put anything there.
    """
    folder = cache_root() / f"kernels-{source_hash()}"
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        folder.mkdir(mode=0o700, exist_ok=True)
        return folder if _private(folder) else None
    except OSError:
        return None


def _private(folder: Path) -> bool:
    """Return True for a folder, no link, that this user alone may write to or replace."""
    if os.name != "posix":
        return True  # elsewhere a user's folders are the user's, and modes say nothing
    own, above = folder.lstat(), folder.parent.stat()
    if not S_ISDIR(own.st_mode) or own.st_uid != os.geteuid() or own.st_mode & 0o022:
        return False
    if above.st_uid not in (0, os.geteuid()) or above.st_mode & 0o1002 == 0o002:
        return False
    folder.chmod(0o700)
    return True


CACHE = cache_folder()
if CACHE is not None:
    numba.config.CACHE_DIR = str(CACHE)  # type: ignore[attr-defined]
# Straight code on several numbers at once, such as the columns of a table's row, as LLVM does by
# default. Of a small function it may make what loops it is inlined into cannot be widened with:
# so `wake._block_wake` has its formulas in the loop.
numba.config.SLP_VECTORIZE = 1  # type: ignore[attr-defined]


def kernel(
    function: Callable[..., Any] | None = None,
    *,
    inlined: bool = False,
    entry: bool = True,
    passed_on: bool = False,
    borrowing: bool = False,
) -> Any:
    """Compile a function for the kernel: cached, no GIL, no error checks, safe fastmath.

    Parameters
    ----------
    inlined : bool
        True compiles it into each of its callers. For the parts of the right-hand side:
        an array handed to a function that is not inlined can cost two atomic reference
        counts, and its shape and strides are written to the stack.
    entry : bool
        False refuses calls from Python, as does a name that begins with an underscore. Others are
        compiled with a way in when Python first calls them, and without one for kernels.
    passed_on : bool
        True leaves it to its callers to optimise it and make machine code of it, once, with
        themselves. For what stands above the right-hand side, and is long with all that it calls.
    borrowing : bool
        True leaves out the counts of references, atomic ones, which every array that a function
        takes out of a tuple or of another costs. For what goes through every tick: it makes no
        array and returns none.
    """

    def compiled(inner: Callable[..., Any]) -> Any:
        options: dict[str, Any] = {
            "cache": CACHE is not None,
            "nogil": True,
            "error_model": "numpy",
            "fastmath": FASTMATH,
            "forceinline": inlined,
            "no_cfunc_wrapper": True,
        }
        dispatcher = numba.njit(**options, pipeline_class=compiler.KernelCompiler)(inner)
        if dispatcher is not inner:  # the same where compiling is switched off
            own = compiler.within(inner, passed_on, borrowing, options)
            compiler.called_within(dispatcher, own)
            if not entry or inner.__name__.startswith("_"):
                compiler.closed(dispatcher)
        return dispatcher

    return compiled if function is None else compiled(function)
