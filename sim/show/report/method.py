"""Sections of a report on its footing: what decided, assumptions, limits, cautions."""

from sim.describe import Aeroplane
from sim.judge import looks_for
from sim.pack.assemble import flown_spreads
from sim.show.report.parts import Bullets, Folded, Hashes, Paragraph, Part, Section, Table, section
from sim.show.words.phrases import (
    CAUTIONS,
    NONE_STANDS_OUT,
    listed,
    luck_text,
    spoken,
    strength_word,
)
from sim.show.words.steps import step_sentence
from sim.study.results.result import StudyResult
from sim.study.standing.chance import noise_level, told_apart
from sim.study.standing.outcomes import manoeuvres_of, recoveries_of
from sim.units.quantities import HEIGHT, LENGTH, SPEED

SHORT_HASH = 12
METHOD_LIMITS = (
    "Forces are added up strip by strip. Between maximum lift and about 35° angle of attack this "
    "agrees least with wind tunnels: autorotation there may come out too strong or too weak "
    "(NACA Report 273, 1927). Steep spins, and whether a stall turns into one, are therefore less "
    "certain than flat spins and ordinary flight.",
    "Section data beyond the stall come from other sections and larger scales; how strongly the "
    "tail is blanketed at high angle of attack is geometry and judgement. Both are drawn over wide "
    "bands, see the list of what is not exactly known.",
    "The aeroplane is rigid, nothing flutters or breaks, and the pilot does what the script says, "
    "with a drawn delay.",
    "The limits given are those of chance between draws (Wilson, 95 %). They do not hold what the "
    "method itself may have wrong, nor what the file says wrongly.",
)


def deciding(result: StudyResult) -> Section | None:
    """Return which uncertainties decided, where they can be told from chance."""
    if not result.setups or not result.factor_draws:
        return None
    noise = noise_level(result.factor_draws)
    known = told_apart(result.factors, result.factor_draws)
    level = luck_text(noise, result.factor_draws)
    title = "What decided it, and what to measure to know better"
    if not known:
        return section(title, Paragraph(f"{NONE_STANDS_OUT} {level}"))
    rows = [(f.text, f.measure, strength_word(f.correlation), f"{f.correlation:+.2f}")
            for f in known]  # fmt: skip
    heads = ("not exactly known", "what to measure", "strength", "rank correlation")
    note = "Correlation with coming back: with + more of it brought more back, with - fewer. "
    note += f"{level} Of many uncertainties one in twenty is listed by luck alone."
    table = Table("Uncertainties, the strongest first", heads, rows, words=3)
    return section(title, table, Paragraph(note, "note"))


def assumptions(result: StudyResult, aeroplane: Aeroplane) -> Section:
    """Return what was assumed, flown and with which files."""
    looks = looks_for(result.required_share_pct / 100.0, result.draws)
    lines = [
        f"Each case: up to {result.draws} draws of everything that is not exactly known, the same "
        f"for every set-up (scrambled Sobol points, seed {result.seed}); it stops once it is "
        "decided, or no answer hangs on it: one recovery is shown to meet what is asked in every "
        "manoeuvre, or its own is shown to fail in one while another may stand. Looked at after "
        f"{listed([f'{n}' for n in looks.counts])} draws, with limits so wide that a share just at "
        "the one asked for is called met, or not met, by chance in no more than 2.5 % each.",
        f"Entered at {HEIGHT(result.entry_m)}, floor {HEIGHT(result.floor_m)}, unless a case says "
        "otherwise; a flight below the floor counts as lost, also one that never departed.",
        "Asked: lower 95 % limit (Wilson, widened for the looks) of held and recovered at "
        f"{result.required_share_pct:g} % or more; what could not be resolved counts as lost.",
        *([step_sentence(result.step)] if result.step is not None else []),
        f"{result.flights} flights. aftlimit {result.version}.",
        f"Study {result.study}, aeroplane {result.aeroplane}.",
    ]
    if aeroplane.invented:
        lines.append(f"Not measured: {' '.join(aeroplane.invented.split())}")
    parts: list[Part] = [Bullets(lines)]
    flown = manoeuvres_of(result.setups) | recoveries_of(result.setups)
    if flown:
        rows = [(spoken(name), title) for name, title in flown.items()]
        parts.append(Table("Manoeuvres and recoveries", ("name", "what"), rows, words=2))
    parts.append(_spreads(aeroplane))
    if result.sources:
        parts.append(_files(result))
    return section("Assumptions", *parts)


def _spreads(aeroplane: Aeroplane) -> Folded:
    rows = [
        (x.text, x.source, x.measure, *_spread(x.sd, x.unit))
        for x in flown_spreads(aeroplane)
        if x.sd
    ]
    heads = (
        "what",
        "where the figure is from",
        "what to measure",
        "one standard deviation",
        "unit",
    )
    table = Table("Drawn, each cut at two standard deviations", heads, rows, words=3)
    return Folded("Everything that is not exactly known", (table,))


def _spread(sd: float, unit: str) -> tuple[str, str]:
    """Return a standard deviation and its unit; lengths and speeds in those of the run."""
    if unit == "m" and not LENGTH.is_default:
        return LENGTH.figure(1000.0 * sd, ".2f"), str(LENGTH)
    if unit == "m/s" and not SPEED.is_default:
        return SPEED.figure(sd, ".1f"), str(SPEED)
    return f"{sd:g}", unit


def _files(result: StudyResult) -> Folded:
    files = [(name, digest[:SHORT_HASH]) for name, digest in result.sources]
    note = Paragraph(f"SHA-256, the first {SHORT_HASH} figures.", "note")
    return Folded("Files, tables and program, with their hashes", (Hashes(files), note))


def method_limits() -> Section:
    """Return what the method itself cannot tell."""
    return section("Limits of the method", Bullets(METHOD_LIMITS))


def cautions() -> Section:
    """Return the cautions."""
    return section("Cautions", Bullets(CAUTIONS, "caution"))
