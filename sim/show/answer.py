"""The answer in a few short sentences: band by pack, best recovery and its height."""

from collections.abc import Sequence

from sim.core import script_layout as s
from sim.show.phrases import height_text, limits_text
from sim.study.bands import (
    Percent,
    Window,
    best_single_recovery,
    few_draws,
    manoeuvre_cases,
    percent_line,
    standing,
    windows,
)
from sim.study.result import AftLimit, CaseResult, StudyResult


def spoken(name: str) -> str:
    """Return a file's name as words."""
    return name.replace("_", " ")


def listed(items: Sequence[str]) -> str:
    """Return "a", "a and b" or "a, b and c"."""
    return " and ".join([", ".join(items[:-1]), items[-1]] if len(items) > 1 else items)


def band_text(window: Window, percent: Percent | None) -> str:
    """Return a band's ends in mm and % MAC, or that there is none."""
    if window.front_mm is None or window.aft_mm is None:
        return "not shown: too few draws" if window.open else "none found"
    front, aft = f"{window.front_mm:.0f}", f"{window.aft_mm:.0f}"
    beyond = "at least " if window.at_end and window.searched else ""
    place = f"{front} to {beyond}{aft} mm" if front != aft else f"{aft} mm only"
    if percent is None:
        return place
    ends = f"{percent(window.front_mm):.1f}", f"{percent(window.aft_mm):.1f}"
    return f"{place} ({' to '.join(dict.fromkeys(ends))} % MAC)"


def band_sentence(window: Window, percent: Percent | None) -> str:
    """Return the band of a pack in one sentence, with what it holds for."""
    flown = f"in {listed([spoken(m) for m in window.manoeuvres])}, by {spoken(window.recovery)}"
    told = (
        f"Pack {window.pack}: band that met the requirement {band_text(window, percent)}, {flown}"
    )
    if window.aft_mm is None:
        return f"{told}."
    known = "from the foremost balance point tried" if window.searched else "at the set-ups flown"
    return f"{told}, {known}."


def band_sentences(result: StudyResult) -> list[str]:
    """Return the band of each pack."""
    percent = percent_line(result)
    return [band_sentence(window, percent) for window in windows(result)]


def limit_in_short(limit: AftLimit) -> str:
    """Return an aft limit with its uncertainty, in a line."""
    if limit.aft_mm is None:
        return "aft limit: none found, it already fails at the foremost balance point tried"
    place = f"{limit.aft_mm:.0f} mm"
    place += f" ({limit.pct_mac:.1f} % MAC)" if limit.pct_mac is not None else ""
    there = f"there {limits_text(limit.share_low, limit.share_high)} come back (95 % limits, "
    there += f"{limit.draws_used} draws)"
    if limit.at_end:
        return f"aft limit beyond {place}, the rearmost tried; {there}"
    fails = ""
    if limit.first_failure_mm is not None:
        fails = f"; no longer shown at {limit.first_failure_mm:.0f} mm"
    return f"aft limit {place}; {there}{fails}"


def recovery_sentence(result: StudyResult) -> str | None:
    """Return the best single recovery and the height it takes; None if nothing was flown."""
    recovery = best_single_recovery(result)
    if recovery is None:
        return None
    stand = standing(result, recovery)
    titles = {c.recovery: c.recovery_title for x in result.setups for c in x.cases}
    told = f"Best single recovery: {titles[recovery]}."
    if not stand:
        return f"{told} With it no set-up meets the requirement."
    parts = [
        f"{spoken(name)}: {_range([lost_95(c) for c in cases])} m after its first input, "
        f"{_range([needed_95(c) for c in cases])} m of entry height with the floor of "
        f"{cases[0].floor_m:.0f} m"
        for name, cases in manoeuvre_cases(stand, recovery).items()
    ]
    who = "the set-up" if len(stand) == 1 else f"the {len(stand)} set-ups"
    may = "meets the requirement or may" if len(stand) == 1 else "meet the requirement or may"
    few = ", too few for firm figures" if few_draws(result) else ""
    return (
        f"{told} Height that 95 % of flights need in {who} that {may} ({result.draws} flights "
        f"each{few}): {'; '.join(parts)}."
    )


def lost_95(case: CaseResult) -> str:
    """Return the height that 95 % of flights stay within after the first recovery input."""
    return height_text(case.height_lost_m.p95, case, s.R_HEIGHT_LOST, 0.95)


def needed_95(case: CaseResult) -> str:
    """Return the entry height that is enough for 95 % of flights, floor included."""
    return height_text(case.entry_height_needed_m.p95, case, s.R_DROP, 0.95, case.floor_m)


def _range(texts: Sequence[str]) -> str:
    """Return "37 to 56", or "56" where all are alike; what has no end counts as the highest."""
    ordered = sorted(dict.fromkeys(texts), key=_size)
    return ordered[0] if len(ordered) == 1 else f"{ordered[0]} to {ordered[-1]}"


def _size(text: str) -> float:
    if text == "never":
        return 1e9
    return float(text.removeprefix("more than ")) + (1e6 if text.startswith("more") else 0.0)
