"""Heights said on the command line: where manoeuvres begin, what counts as lost, the ceiling."""

from dataclasses import dataclass, fields, replace

from sim.describe import Fault, FileFault, StudyFiles
from sim.study.standing.heights import ceiling_of


@dataclass(frozen=True)
class HeightsSaid:
    """Heights [m] above the ground instead of what a study says; None leaves it what it says.

    ``entry_m`` is where every manoeuvre begins; ``floor_m`` is what no flight may sink below;
    ``ceiling_m`` the most height that may be used.
    """

    entry_m: float | None = None
    floor_m: float | None = None
    ceiling_m: float | None = None

    @property
    def options(self) -> tuple[tuple[str, str], ...]:
        """What the command line says of them, in pairs."""
        return tuple(
            (f"--{key.replace('_', '-')}", f"{value:g}")
            for key in (field.name for field in fields(self))
            if (value := getattr(self, key)) is not None
        )


AS_SAID = HeightsSaid()


def at_heights(files: StudyFiles, heights: HeightsSaid) -> StudyFiles:
    """Return a study, its search too, flown from, down to and below other heights.

    An entry height is that of every manoeuvre, a floor likewise. What begins at the ceiling begins
    at another one that is said.

    Raises
    ------
    FileFault
        A floor lies no lower than an entry or the ceiling.
    """
    if heights == AS_SAID:
        return files
    study, update = files.study, {}
    for key in ("entry_m", "floor_m"):
        if (value := getattr(heights, key)) is not None:
            update[key] = value
    gone = dict.fromkeys(update)
    cases = tuple(case.model_copy(update=gone) for case in study.cases)
    if heights.ceiling_m is not None:
        update["ceiling_m"] = heights.ceiling_m
        if heights.entry_m is None and study.entry_m == ceiling_of(study):
            update["entry_m"] = heights.ceiling_m
    study = study.model_copy(update={**update, "cases": cases})
    _check(study.height_faults(), heights)
    return replace(files, study=study, options=(*files.options, *heights.options))


def _check(faults: list[tuple[str, str]], heights: HeightsSaid) -> None:
    """Refuse heights that cannot be together, by the options that were given."""
    if faults:
        given = ", ".join(name for name, _ in heights.options)
        raise FileFault(given, [Fault(path, text) for path, text in faults])
