"""The study of an aeroplane that comes without one: today's set-up, steps aft, every pack's limit.

What it flies stands in kinds.toml, by the aeroplane's kind, or by what drives it.
"""

from collections.abc import Sequence
from math import floor
from pathlib import Path

from sim import tables
from sim.describe import (
    Aeroplane,
    Fault,
    FileFault,
    Study,
    StudyFiles,
    StudySetUp,
    load_aeroplane,
    load_manoeuvre,
    load_recovery,
    load_study_files,
    resolve_setup,
)
from sim.describe.reading.files import SCHEMAS, parse
from sim.describe.reading.finding import bundled, find
from sim.describe.reading.study_files import aeroplane_paths, at_the_field
from sim.pack.assemble import Assembled, assemble
from sim.study.entering import AS_SAID, Said, as_asked
from sim.trim.cruise import cruise_speed
from sim.trim.trimming import level, neutral_point_pct
from sim.units.quantities import LENGTH
from sim.units.ranges import range_words
from sim.weigh import Weighed, weigh_set_up
from sim.weigh.facts import kinds_of
from sim.weigh.reach import pack_reach

TODAY = "today"  # as start calls it
LEFT_OUT = "Left out, as neither pack nor weights give it: "
Block = dict[str, object]


def find_study(name: str | Path, heights: Said = AS_SAID) -> StudyFiles:
    """Return a study by its name or file, or the usual one of an aeroplane by its.

    Parameters
    ----------
    heights : Said
        Those said instead of what the study says.

    Raises
    ------
    FileFault
        With everything that is wrong with it, or with a file it names.
    """
    return as_asked(_found(name), heights)


def _found(name: str | Path) -> StudyFiles:
    """Return a study by its name or file, or the usual one of an aeroplane, as they say."""
    if str(name) in bundled("aeroplanes") and str(name) not in bundled("studies"):
        path = find(name, "aeroplanes")
    else:
        path = find(name, "studies")
    if SCHEMAS.get(str(parse(path).get("schema"))) is not Aeroplane:
        return load_study_files(name)
    return study_of(load_aeroplane(path), path)


def study_of(aeroplane: Aeroplane, path: Path) -> StudyFiles:
    """Return the usual study of an aeroplane, with the manoeuvres and recoveries of its kind.

    Parameters
    ----------
    path : Path
        Its file.
    """
    usual = tables.kinds().study
    flying = tables.kinds().kinds[kinds_of(aeroplane)[0]].flying
    ready = assemble(aeroplane)
    setups, left = _setups(aeroplane, ready.weighed)
    own = [x for x in _own(aeroplane) if any(x == block["name"] for block in setups)]
    search = _search(ready, max(usual.steps_aft_mm))
    story = (
        f"The usual study of an aeroplane without one of its own: as you fly it today, "
        f"{_also(own)}{', '.join(f'{x:g}' for x in usual.steps_aft_mm)} mm further aft, and "
        "with its other packs in the same place, the lightest and the heaviest at today's balance "
        "point too; how far aft each "
        f"pack may balance{_with_those(own)}."
    )
    if left:
        story += f" {LEFT_OUT}{'; '.join(left)}."
    high = max(usual.spin_entry_m, aeroplane.field.ceiling_m or 0.0)
    cases = [
        {"manoeuvre": name, "recoveries": list(flying.recoveries)}
        | ({"entry_m": high} if name in usual.from_high else {})
        for name in flying.manoeuvres
    ]
    raw = {
        "schema": "aftlimit.study/1", "name": aeroplane.name,
        "title": f"{aeroplane.title}: how far aft?", "story": story, "aeroplane": aeroplane.name,
        "seed": usual.seed, "draws": usual.draws, "setups": setups, "cases": cases,
        "today": TODAY,
        "aft_limit": {
            "packs": list(aeroplane.packs), "like": TODAY, "also": own,
            "draws": usual.draws, "draws_most": usual.draws_most, **search,
        },
    }  # fmt: skip
    study = at_the_field(Study.model_validate(raw), aeroplane)
    if faults := study.height_faults():
        raise FileFault(path.name, [Fault(f"field: {key}", text) for key, text in faults])
    manoeuvres = {x: load_manoeuvre(x) for x in (*flying.manoeuvres, *study.agility)}
    recoveries = {x: load_recovery(x) for x in flying.recoveries}
    scripts = [find(x, "manoeuvres") for x in (*manoeuvres, *recoveries)]
    return StudyFiles(
        study, aeroplane, manoeuvres, recoveries, (*aeroplane_paths(aeroplane, path), *scripts)
    )


def _own(aeroplane: Aeroplane) -> list[str]:
    """Return the set-ups of a file of start beside today's: throws, a weight taken out, a pack."""
    if aeroplane.first_setup != TODAY:
        return []
    return [name for name in aeroplane.setups if name != TODAY]


def _also(names: Sequence[str]) -> str:
    """Return the set-ups of the file that are flown beside today's, in the words of the story."""
    return "".join(f"as its set-up {name} says, " for name in names)


def _with_those(names: Sequence[str]) -> str:
    """Return for which of these the limit is searched too, in the words of the story."""
    return f", and as {' and '.join(names)}" if names else ""


def _setups(aeroplane: Aeroplane, today: Weighed) -> tuple[list[Block], list[str]]:
    """Return set-ups as a study's file has them, and what of them cannot be had, in words."""
    first, pack, own = aeroplane.first_setup, today.setup.pack, _own(aeroplane)
    wished: list[Block] = [{"name": TODAY, "title": "as you fly it today", "like": first}]
    for name in _own(aeroplane):
        title = aeroplane.setups[name].title or name
        wished.append({"name": name, "title": title, "like": name})
    for step in tables.kinds().study.steps_aft_mm:
        told = LENGTH(step, "g")
        wished.append({
            "name": f"aft_{step:g}_mm", "title": f"{told} further aft", "like": first,
            "balance_aft_mm": float(f"{today.balance_aft_mm + step:.1f}"),
        })  # fmt: skip
    by_mass = sorted(aeroplane.packs, key=lambda name: aeroplane.packs[name].mass_g)
    for name in by_mass[1:-1]:  # each pack that is searched has a set-up, and so a card
        if name != pack:
            wished.append({
                "name": f"pack_{name}", "title": f"pack {name} in the same place",
                "like": first, "pack": name, "pack_aft_mm": float(f"{today.pack_aft_mm:.1f}"),
            })  # fmt: skip
    for name, which in {by_mass[0]: "lightest", by_mass[-1]: "heaviest"}.items():
        if name != pack:
            wished.append({
                "name": f"{which}_pack", "title": f"{which} pack, {name}, in the same place",
                "like": first, "pack": name, "pack_aft_mm": float(f"{today.pack_aft_mm:.1f}"),
            })  # fmt: skip
            level = today.balance_aft_mm
            wished.append({
                "name": f"{which}_{floor(round(level, 6))}_mm", "like": first, "pack": name,
                "title": f"{which} pack, {name}, at today's balance point",
                "balance_aft_mm": float(f"{level:.1f}"),
            })  # fmt: skip
    held, left = [], []
    for block in wished:
        if block["name"] in own and block["like"] != block["name"]:
            continue  # the file's own goes by that name
        why = _not_to_be_had(aeroplane, StudySetUp.model_validate(block))
        if why is None:
            held.append(block)
        else:
            left.append(f"{block['title']}{why}")
    return held, left


def _not_to_be_had(aeroplane: Aeroplane, wish: StudySetUp) -> str | None:
    """Return why a set-up is left out, maybe "" for no more to say; None: it can be had.

    Another pack at today's balance point is one that its tray reaches, with nothing added.
    """
    try:
        found = weigh_set_up(aeroplane, wish)
    except FileFault:
        return _tray(aeroplane, wish)
    other = wish.pack is not None and wish.balance_aft_mm is not None
    return _tray(aeroplane, wish) if other and found.added_weights else None


def _tray(aeroplane: Aeroplane, wish: StudySetUp) -> str:
    """Return from where to where a pack's tray balances it, in brackets."""
    setup = resolve_setup(aeroplane, wish)
    reach = pack_reach(aeroplane, setup, setup.pack)
    ends = LENGTH.figure(reach.foremost_mm), LENGTH(reach.rearmost_mm)
    return f" (its tray alone reaches {range_words(*ends)})"


def _search(ready: Assembled, furthest_mm: float) -> Block:
    """Return between which balance points the aft limit is looked for [mm aft].

    Static margins of kinds.toml, by the neutral point at the usual cruise; no less far aft than
    the set-ups flown.
    """
    neutral, _ = neutral_point_pct(ready, level(ready, cruise_speed([ready])))
    low, high = tables.kinds().study.search_margin_pct
    ref = ready.weighed.reference
    front, rear = (1000.0 * ref.aft_m(neutral - margin) for margin in (high, low))
    today = ready.weighed.balance_aft_mm
    return {
        "from_aft_mm": float(f"{min(front, today - furthest_mm):.0f}"),
        "to_aft_mm": float(f"{max(rear, today + furthest_mm):.0f}"),
    }
