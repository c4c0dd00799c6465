"""Slips of the pen among measurements: what does not go together, and what was likely meant.

A fact is a number that a pilot measured or a file says; a check holds some of them against what
is usual for the kind (usual.toml). Where checks fail, every single slip that people make (a
decimal point, inches, ounces, half a span, the nose for the datum) is tried on every fact in
them: the one that mends most is likely what happened.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import pi

from sim import tables
from sim.describe.known import Kind
from sim.tables.models.usual import UsualOfKind
from sim.units.factors import GRAVITY, INCH, OUNCE
from sim.weigh.rough import in_its_body, on_its_chord, static_margin_pct, sweep_deg, wing_of

INCHES = INCH * 1000.0  # mm
OUNCES = OUNCE * 1000.0  # g
Values = Mapping[str, float]


@dataclass(frozen=True)
class Fact:
    """A number: its value in the unit of its name here, and what it is called where it stands.

    ``shown`` is the number there, of which the value is a multiple.
    """

    value: float
    key: str
    shown: float


@dataclass(frozen=True)
class Check:
    """What some facts give, and the band of usual.toml that it should lie in."""

    needs: tuple[str, ...]
    band: str
    gives: Callable[[Values], float]
    text: str
    unit: str = ""


@dataclass(frozen=True)
class Slip:
    """A fact that is likely wrong; ``meant`` is what it likely should be, where that is clear."""

    name: str
    key: str
    shown: float
    meant: float | None
    text: str


def _itself(name: str) -> Callable[[Values], float]:
    return lambda v: v[name]


def _ratio(a: str, b: str) -> Callable[[Values], float]:
    """Return what gives one fact over another [-]; by definition."""
    return lambda v: v[a] / v[b]


def _area(v: Values, what: str) -> float:
    """Return a surface's area [mm²], tip to tip; geometry."""
    mean = (v[f"{what}_root_chord_mm"] + v[f"{what}_tip_chord_mm"]) / 2.0
    return v[f"{what}_span_mm"] * mean


def _packs(count: int) -> Iterator[Check]:
    """Yield the checks of each pack, its energy [Wh/kg] by definition."""
    for i in range(1, count + 1):
        grams, cells, mah = f"pack_{i}_g", f"pack_{i}_cells", f"pack_{i}_mah"
        yield Check((grams, "mass_g"), "pack_over_mass", _ratio(grams, "mass_g"),
                    "a pack of so much of the whole")  # fmt: skip

        def energy(v: Values, g: str = grams, n: str = cells, q: str = mah) -> float:
            """Energy over weight [Wh/kg]; by definition."""
            return tables.plausible().nominal_cell_v * v[n] * v[q] / v[g]

        yield Check((mah, grams, cells), "pack_wh_kg", energy, "energy of a pack", "Wh/kg")


def _tip_speed(v: Values) -> float:
    """Return the speed of blade tips without load [m/s]; by definition."""
    volts = tables.plausible().nominal_cell_v * v["pack_1_cells"]
    return pi * v["diameter_mm"] / 1000.0 * v["kv_rpm_per_v"] * volts / 60.0


def _throws() -> Iterator[Check]:
    """Yield the checks of throws [degrees] and of a servo's torque [N cm/kg], by definition."""
    ways = [(f"{name}_up_deg", f"{name}_down_deg") for name in ("aileron", "elevator")]
    for up, down in ways:
        yield Check((up, down), "up_over_down", _ratio(up, down), "a throw up over down")
    for key in (*ways[0], *ways[1], "rudder_deg"):
        yield Check((key,), "throw_deg", _itself(key), "a throw", "degrees")
    yield Check(("elevator_up_deg", "rudder_deg"), "rudder_over_elevator",
                _ratio("rudder_deg", "elevator_up_deg"), "rudder over elevator throw")  # fmt: skip
    yield Check(("servo_torque_ncm", "mass_g"), "servo_ncm_per_kg",
                lambda v: 1000.0 * v["servo_torque_ncm"] / v["mass_g"],
                "torque of a servo for each kilogram of the whole", "N cm")  # fmt: skip


WING = ("wing_span_mm", "wing_root_chord_mm", "wing_tip_chord_mm")
TAIL = ("tail_span_mm", "tail_root_chord_mm", "tail_tip_chord_mm")
PLACES = ("wing_tip_back_mm", "balance_back_mm", "body_length_mm", "middle_width_mm")
SHAPE = (
    Check(WING[:1], "span_mm", lambda v: v["wing_span_mm"], "a span", "mm"),
    Check(WING[1::-1], "root_chord_over_span", _ratio(WING[1], WING[0]), "root chord over span"),
    Check(WING[:0:-1], "tip_over_root", _ratio(WING[2], WING[1]), "tip over root chord"),
    Check(("wing_tip_back_mm", *WING), "sweep_deg", sweep_deg, "a sweep", "degrees"),
    Check(("strake_length_mm", WING[1]), "strake_length_over_root",
          _ratio("strake_length_mm", WING[1]), "length of a strake over root chord"),
    Check(("strake_width_mm", WING[0]), "strake_width_over_span",
          _ratio("strake_width_mm", WING[0]), "width of a strake over span"),
    Check((*TAIL, *WING), "tail_area_over_wing", lambda v: _area(v, "tail") / _area(v, "wing"),
          "area of the tailplane over the wing's"),
    Check(TAIL[:0:-1], "tail_tip_over_root", _ratio(TAIL[2], TAIL[1]),
          "tip over root chord of the tailplane"),
    Check(("tail_back_mm", *WING), "tail_arm_over_chord",
          lambda v: v["tail_back_mm"] / wing_of({"wing_tip_back_mm": 0.0, **v}).chord,
          "distance of the tailplane in chords"),
    Check(("fin_height_mm", WING[0]), "fin_height_over_span", _ratio("fin_height_mm", WING[0]),
          "height of a fin over span"),
    Check(("fin_root_chord_mm", "fin_height_mm"), "fin_root_over_height",
          _ratio("fin_root_chord_mm", "fin_height_mm"), "root chord of a fin over its height"),
    Check(("body_length_mm", WING[0]), "body_over_span", _ratio("body_length_mm", WING[0]),
          "length of the body over span"),
    Check(("nose_ahead_mm", "body_length_mm"), "nose_over_body",
          _ratio("nose_ahead_mm", "body_length_mm"), "nose ahead of the wing over body length"),
)  # fmt: skip
BODY = tuple(
    check
    for place in ("front", "middle", "end")
    for check in (
        Check((f"{place}_width_mm", "body_length_mm"), "width_over_body",
              _ratio(f"{place}_width_mm", "body_length_mm"), "width of the body over its length"),
        Check((f"{place}_height_mm", f"{place}_width_mm"), "height_over_width",
              _ratio(f"{place}_height_mm", f"{place}_width_mm"), "height of the body over width"),
    )
)  # fmt: skip
WHOLE = (
    Check(("mass_g", *WING), "cubic_loading_kg_m3",
          lambda v: v["mass_g"] / 1000.0 / (_area(v, "wing") / 1e6) ** 1.5,
          "a weight over area to the power 1.5", "kg/m3"),
    Check((PLACES[1], *WING, *PLACES[:1], *PLACES[2:]), "static_margin_pct", static_margin_pct,
          "a static margin of roughly", "% MAC"),
    Check(("diameter_mm", WING[0]), "diameter_over_span", _ratio("diameter_mm", WING[0]),
          "diameter of fan or propeller over span"),
    Check(("kv_rpm_per_v", "diameter_mm", "pack_1_cells"), "tip_speed_mps", _tip_speed,
          "a speed of the blade tips, unloaded,", "m/s"),
)  # fmt: skip
MOST_PACKS = 8
BALANCE, MARGIN = "balance_back_mm", "static_margin_pct"
ELSEWHERE = "measured from elsewhere, or in another unit"
DIGIT = ((10.0, "a digit"), (0.1, "a digit"))
FACTORS = {
    "_mm": ((10.0, "a decimal point, or centimetres"), (0.1, "a decimal point"),
            (INCHES, "inches"), (1.0 / INCHES, "inches twice over")),
    "_g": ((OUNCES, "ounces"), *DIGIT, (1000.0, "kilograms"), (1.0 / OUNCES, "ounces twice over")),
    "_mah": DIGIT,
    "_per_v": DIGIT,
    "_deg": ((10.0, "a decimal point"), (0.1, "a decimal point")),
    "_ncm": ((GRAVITY, "kilogram centimetres"), (1.0 / GRAVITY, "kilogram centimetres twice over"),
             *DIGIT),
}  # fmt: skip
CHECKS = (*SHAPE, *BODY, *WHOLE, *_packs(MOST_PACKS), *_throws())


CROSSED = {"elevator_up_deg": "rudder_deg", "rudder_deg": "elevator_up_deg"}


def swapped_with(name: str) -> list[str]:
    """Return the throws that one is likely swapped with."""
    return [x for x in (name.replace("_up_", "_down_"), CROSSED.get(name, name)) if x != name]


def _misread(name: str, v: Values) -> Iterator[tuple[dict[str, float], str]]:
    """Yield what facts may have been meant, the likeliest slip first, and how that happens.

    Own: slips that people make, as factors [-] and as places [mm] measured from elsewhere.
    """
    value = v[name]
    if name == BALANCE:
        if "datum_behind_nose_mm" in v:
            yield {name: value - v["datum_behind_nose_mm"]}, "measured from the nose"
        if "wing_root_chord_mm" in v:
            yield {name: v["wing_root_chord_mm"] - value}, "measured from the trailing edge"
        yield {name: -value}, "ahead for behind"
    for ending, slips in FACTORS.items():
        if name.endswith(ending):
            yield from (({name: factor * value}, how) for factor, how in slips)
    if name in ("wing_span_mm", "tail_span_mm"):
        yield {name: 2.0 * value}, "one side instead of tip to tip"
    for other in (x for x in swapped_with(name) if x in v):
        how = "tail and rudder" if CROSSED.get(name) == other else "up and down"
        yield {name: v[other], other: value}, f"{how} swapped"


def failing(v: Values, kinds: Sequence[Kind]) -> list[Check]:
    """Return the checks that facts fail, for every kind that it may be."""
    bands = [getattr(tables.usual(), kind) for kind in kinds]
    return [
        check
        for check in CHECKS
        if all(name in v for name in check.needs)
        and not any(_inside(check, v, band) for band in bands)
    ]


def _inside(check: Check, v: Values, band: UsualOfKind) -> bool:
    low, high = getattr(band, check.band)
    try:
        return bool(low <= check.gives(v) <= high)
    except ZeroDivisionError:
        return False


def find_slips(
    facts: Mapping[str, Fact], kinds: Sequence[Kind], suspects: Iterable[str] = ()
) -> list[Slip]:
    """Return what looks like a slip, each once, with what was likely meant.

    Parameters
    ----------
    facts : mapping of str to Fact
        By the names that checks use.
    kinds : sequence of Kind
        What it may be; more than one where the file does not say.
    suspects : iterable of str
        Facts to look at first: those just typed.
    """
    now: dict[str, float] = {name: fact.value for name, fact in facts.items()}
    first, out = list(suspects), []
    while wrong := failing(now, kinds):
        slip, change = _likeliest(facts, now, wrong, kinds, first)
        out.append(slip)
        now |= change
        if not change:  # nothing mends it: it is told, and the rest looked at without it
            del now[slip.name]
    return out


def _likeliest(
    facts: Mapping[str, Fact], v: Values, wrong: Sequence[Check], kinds: Sequence[Kind],
    first: Sequence[str],
) -> tuple[Slip, dict[str, float]]:  # fmt: skip
    """Return the single slip that leaves fewest checks failing, and the values meant.

    Own; the number shown [its own unit] changes as the value does.
    """
    names = dict.fromkeys(x for x in first if any(x in check.needs for check in wrong))
    names |= dict.fromkeys(name for check in wrong for name in check.needs)
    if all(check.band == MARGIN for check in wrong):  # ten lengths lead to it, one is read off
        names = {BALANCE: None}
    fewest, name = len(wrong), next(iter(names))
    found: tuple[dict[str, float], str | None] = ({}, ELSEWHERE if name == BALANCE else None)
    for suspect in names:
        if suspect == BALANCE and on_its_chord(v):  # read from anywhere it would look usual
            continue
        for change, how in _misread(suspect, v):
            left = len(failing({**v, **change}, kinds))
            if left < fewest and in_its_body({**v, **change}):
                fewest, name, found = left, suspect, (change, how)
    change, likely = found
    fact = facts[name]
    meant = None
    if change:
        meant = float(f"{fact.shown + (change[name] - v[name]) * _scale(fact):.4g}")
    told = next(check for check in wrong if name in check.needs)
    return Slip(name, fact.key, fact.shown, meant, _told(told, v, kinds, likely)), change


def _scale(fact: Fact) -> float:
    """Return how much of the number shown one of the value is [-]; by definition."""
    return fact.shown / fact.value if fact.value else 1.0


def _told(check: Check, v: Values, kinds: Sequence[Kind], how: str | None) -> str:
    """Return what a check finds, what is usual, and how the slip happens."""
    bands = [getattr(getattr(tables.usual(), kind), check.band) for kind in kinds]
    low, high = min(b[0] for b in bands), max(b[1] for b in bands)
    titles = {tables.kinds().kinds[kind].title for kind in kinds}
    unit = f" {check.unit}" if check.unit else ""
    try:
        got = f"{check.gives(v):.3g}"
    except ZeroDivisionError:
        got = "endless"
    whose = f" ({titles.pop()})" if len(titles) == 1 else ""
    told = f"{check.text} {got}{unit}, usual is {low:g} to {high:g}{unit}{whose}"
    return told if how is None else f"{told}: {how}?"


def plain(key: str, value: float) -> str:
    """Return a number as it stands under a key, whose ending is its unit."""
    return f"{value:g}"


def slip_words(slip: Slip, tell: Callable[[str, float], str] = plain) -> str:
    """Return a slip in one line: the key, its value, what that gives, what was likely meant.

    ``tell`` says a number of a key.
    """
    meant = "" if slip.meant is None else f"; likely meant {tell(slip.key, slip.meant)}"
    return f"{slip.key}: {tell(slip.key, slip.shown)} gives {slip.text}{meant}"
