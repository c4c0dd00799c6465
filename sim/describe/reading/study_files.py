"""A study with everything it names, read and checked against each other."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import get_args

from sim.describe.aeroplane import Aeroplane
from sim.describe.cross_checks import setup_faults
from sim.describe.faults import Fault, FileFault
from sim.describe.manoeuvre import Manoeuvre, Recovery, Shows
from sim.describe.plain import unknown
from sim.describe.reading.files import load_aeroplane, read_as_written, read_script
from sim.describe.reading.finding import find
from sim.describe.section_table import section_path
from sim.describe.study import Study


@dataclass(frozen=True)
class StudyFiles:
    """A study with everything it names, read and checked.

    Parameters
    ----------
    study : Study
    aeroplane : Aeroplane
    manoeuvres, recoveries : dict of str to Manoeuvre, Recovery
        By the name the study uses.
    paths : tuple of Path
        The files it was read from, the study's own first.
    options : tuple of (str, str)
        What the command line said instead of the study, to be said again in commands told.
    """

    study: Study
    aeroplane: Aeroplane
    manoeuvres: dict[str, Manoeuvre]
    recoveries: dict[str, Recovery]
    paths: tuple[Path, ...] = ()
    options: tuple[tuple[str, str], ...] = ()


def load_study(name: str | Path) -> Study:
    """Read a study file and check it against the files it names.

    Raises
    ------
    FileFault
        With everything that is wrong with the study, or with a file it names.
    """
    return load_study_files(name).study


def load_study_files(name: str | Path) -> StudyFiles:
    """Read a study file with the aeroplane and manoeuvres it names, and check them all.

    Names are looked up in the study's own folder first, then among the bundled files.

    Raises
    ------
    FileFault
        With everything that is wrong with the study, or with a file it names.
    """
    path = find(name, "studies")
    study, own = read_as_written(path, Study)
    try:
        aeroplane = load_aeroplane(study.aeroplane, path.parent)
    except FileFault as fault:
        if _inside(fault, study.aeroplane):
            raise
        raise FileFault(path.name, [Fault("aeroplane", _found_none(fault))]) from None
    study = at_the_field(study, aeroplane)
    faults = [Fault(path, text) for path, text in study.height_faults()]
    faults += list(map(own.told, _against_the_aeroplane(study, aeroplane)))
    manoeuvres: dict[str, Manoeuvre] = {}
    recoveries: dict[str, Recovery] = {}
    for where, wanted, kind in _scripts(study):
        try:
            script = read_script(find(wanted, "manoeuvres", path.parent, kind))
        except FileFault as fault:
            if _inside(fault, wanted):
                raise
            faults.append(Fault(where, _found_none(fault)))
            continue
        if script.kind != kind:
            faults.append(Fault(where, f"needs a {kind}; {wanted!r} is a {script.kind}"))
        if where == "agility" and isinstance(script, Manoeuvre) and script.shows is None:
            text = f"{wanted!r} does not say what it shows; write in it shows = one of "
            faults.append(Fault(where, text + ", ".join(repr(x) for x in get_args(Shows))))
        if isinstance(script, Manoeuvre):
            manoeuvres[wanted] = script
        else:
            recoveries[wanted] = script
    faults += _named_twice(path.parent, [*manoeuvres, *recoveries])
    if faults:
        raise FileFault(path.name, faults)
    named = aeroplane_paths(aeroplane, find(study.aeroplane, "aeroplanes", path.parent))
    named += [find(name, "manoeuvres", path.parent) for name in [*manoeuvres, *recoveries]]
    return StudyFiles(study, aeroplane, manoeuvres, recoveries, (path, *named))


def at_the_field(study: Study, aeroplane: Aeroplane) -> Study:
    """Return a study with the heights of the aeroplane's field where it names none itself.

    Where no entry height is named either, manoeuvres begin at the ceiling.
    """
    place = aeroplane.field
    told = {"floor_m": place.floor_m, "ceiling_m": place.ceiling_m}
    ceiling = study.ceiling_m if "ceiling_m" in study.model_fields_set else place.ceiling_m
    told["entry_m"] = ceiling
    update = {
        key: value
        for key, value in told.items()
        if value is not None and key not in study.model_fields_set
    }
    return study.model_copy(update=update) if update else study


def aeroplane_paths(aeroplane: Aeroplane, path: Path) -> list[Path]:
    """Return the file of an aeroplane and those of the section tables that it names."""
    tables = (surface.section.table for surface in aeroplane.surfaces)
    names = dict.fromkeys(table.file for table in tables if table is not None)
    return [path, *(section_path(name, path.parent) for name in names)]


def _found_none(fault: FileFault) -> str:
    return f"names {fault.file!r}: " + "; ".join(f.text for f in fault.faults)


def _inside(fault: FileFault, name: str) -> bool:
    """Return True if a fault stands in the file that ``name`` was found as, by a key of it."""
    return fault.file != name or any(f.path for f in fault.faults)


def _scripts(study: Study) -> Iterable[tuple[str, str, str]]:
    for case in study.cases:
        yield f"cases.{case.manoeuvre}.manoeuvre", case.manoeuvre, "manoeuvre"
        for name in case.recoveries:
            yield f"cases.{case.manoeuvre}.recoveries", name, "recovery"
    for name in study.agility if study.setups else ():
        yield "agility", name, "manoeuvre"
    if study.aft_limit is not None:
        for name in study.aft_limit.manoeuvres:
            yield "aft_limit.manoeuvres", name, "manoeuvre"
        for name in study.aft_limit.recoveries:
            yield "aft_limit.recoveries", name, "recovery"


def _named_twice(folder: Path, names: Iterable[str]) -> Iterable[Fault]:
    """Yield a fault for each file that a study names in two ways: its flights would be two's."""
    seen: dict[Path, str] = {}
    for name in dict.fromkeys(names):
        path = find(name, "manoeuvres", folder).resolve()
        if path in seen:
            text = f"{seen[path]!r} and {name!r} name the same file, {path.name}; use one name"
            yield Fault("cases", text)
        seen.setdefault(path, name)


def _against_the_aeroplane(study: Study, aeroplane: Aeroplane) -> Iterable[Fault]:
    raw = aeroplane.model_dump(exclude_none=True)
    for block in study.setups:
        plain = block.model_dump(exclude_none=True)
        yield from setup_faults(plain, f"setups.{block.name}", raw, aeroplane.setups)
    known = [*(block.name for block in study.setups), *aeroplane.setups]
    yield from unknown({"today": study.today}, "today", "", known, "set-ups")
    limit = study.aft_limit
    if limit is None:
        return
    for pack in limit.packs:
        yield from unknown({"packs": pack}, "packs", "aft_limit", aeroplane.packs, "packs")
    yield from unknown({"like": limit.like}, "like", "aft_limit", known, "set-ups")
    for name in limit.also:
        yield from unknown({"also": name}, "also", "aft_limit", known, "set-ups")
    if limit.like is None and not study.setups and len(aeroplane.setups) > 1:
        text = "is missing; name the set-up whose throws, nozzle, gyro and weights are searched: "
        yield Fault("aft_limit.like", text + ", ".join(aeroplane.setups))
