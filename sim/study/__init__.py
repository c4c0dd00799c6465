"""Studies: draws, planning, running, limits and storage.

Its names are looked up when first used (PEP 562): a room below that needs one of its modules,
or a command that flies nothing, does not import the whole of it.
"""

from importlib import import_module

TYPE_CHECKING = False

if TYPE_CHECKING:
    from sim.study.results.result import StudyResult as StudyResult
    from sim.study.study import run_study as run_study
else:
    _HOME = {
        "StudyResult": "sim.study.results.result",
        "run_study": "sim.study.study",
    }

    def __getattr__(name: str) -> object:
        """Return a name from its home module."""
        if name not in _HOME:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        return getattr(import_module(_HOME[name]), name)
