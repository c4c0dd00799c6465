"""What the command line says instead of a study: where it begins, floor, ceiling, draws."""

from dataclasses import dataclass, fields, replace

from sim.describe import Fault, FileFault, StudyFiles
from sim.describe.study import LEAST_DRAWS_FOR_A_LIMIT
from sim.study.standing.heights import ceiling_of


@dataclass(frozen=True)
class Said:
    """Heights [m] above the ground, and draws, instead of a study's; None leaves what it says.

    ``entry_m`` is where every manoeuvre begins; ``floor_m`` is what no flight may sink below;
    ``ceiling_m`` the most height that may be used. ``draws`` is the most that a case flies, and
    a search for an aft limit.
    """

    entry_m: float | None = None
    floor_m: float | None = None
    ceiling_m: float | None = None
    draws: int | None = None

    @property
    def options(self) -> tuple[tuple[str, str], ...]:
        """What the command line says of them, in pairs."""
        return tuple(
            (f"--{key.replace('_', '-')}", f"{value:g}")
            for key in (field.name for field in fields(self))
            if (value := getattr(self, key)) is not None
        )


AS_SAID = Said()


def as_asked(files: StudyFiles, heights: Said) -> StudyFiles:
    """Return a study, its search too, flown from, down to and below other heights, by more draws.

    An entry height is that of every manoeuvre, a floor likewise. What begins at the ceiling begins
    at another one that is said.

    Raises
    ------
    FileFault
        A floor lies no lower than an entry or the ceiling.
    """
    if heights == AS_SAID:
        return files
    study = files.study
    update: dict[str, object] = {}
    for key in ("entry_m", "floor_m"):
        if (value := getattr(heights, key)) is not None:
            update[key] = value
    gone = dict.fromkeys(update)
    cases = tuple(case.model_copy(update=gone) for case in study.cases)
    if heights.ceiling_m is not None:
        update["ceiling_m"] = heights.ceiling_m
        if heights.entry_m is None and study.entry_m == ceiling_of(study):
            update["entry_m"] = heights.ceiling_m
    if heights.draws is not None:
        update["draws"] = heights.draws
        if study.aft_limit is not None:
            draws = max(heights.draws, LEAST_DRAWS_FOR_A_LIMIT)
            fly = {"draws": draws, "draws_most": None}
            update["aft_limit"] = study.aft_limit.model_copy(update=fly)
    study = study.model_copy(update={**update, "cases": cases})
    _check(study.height_faults(), heights)
    return replace(files, study=study, options=(*files.options, *heights.options))


def _check(faults: list[tuple[str, str]], heights: Said) -> None:
    """Refuse heights that cannot be together, by the options that were given."""
    if faults:
        given = ", ".join(name for name, _ in heights.options)
        raise FileFault(given, [Fault(path, text) for path, text in faults])
