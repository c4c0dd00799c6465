"""Every question as a file of answers to be filled in with an editor: key, unit, ruler, example.

Each answer is a comment until its # is taken away, so that what is forgotten is told as missing
and no example is taken for a measurement.
"""

from collections.abc import Iterator, Mapping

from sim.describe.reading.files import parse
from sim.describe.reading.finding import data_folder
from sim.start.asking.answers import SCHEMA
from sim.start.asking.question import ALL, DELTA, DRIVEN_BY, PACKS, Question
from sim.start.asking.questions import QUESTIONS
from sim.start.asking.typed import unit_of

BUNDLED = "ruler_jet"  # whose answers are the examples, where it has one
EXAMPLES = {  # of what that aeroplane has not got; of no one's
    "fin_apart_mm": "180", "fin_lean_deg": "15", "front_height_mm": "120",
    "middle_height_mm": "130", "end_height_mm": "70", "lead_g": "40", "lead_back_mm": "-500",
    "fan_apart_mm": "140", "propeller_in": "11", "pitch_in": "6", "servo_torque_ncm": '"2.2 kg cm"',
    "static_thrust_g": "2400", "static_current_a": "62", "wheels": '"nose"',
    "main_wheel_back_mm": "190", "main_wheel_down_mm": "150", "third_wheel_back_mm": "-380",
    "third_wheel_down_mm": "150", "pivot_back_mm": "80",
    "rudder_inner_mm": "10", "rudder_outer_mm": "240", "elevator_inner_mm": "50",
    "elevator_outer_mm": "240", "floor_m": "40", "ceiling_m": "120",
    "flap_width_mm": "42", "flap_tip_width_mm": "40", "flap_inner_mm": "90",
    "flap_outer_mm": "300", "flap_down_deg": "30", "static_from": '"measured"',
    "wing_thickness_mm": "30", "wing_lead_up_mm": "9", "tail_lead_up_mm": "2",
    "wing_tip_lead_up_mm": "2", "elevator_more_up_deg": "22", "elevator_more_down_deg": "18",
    "propeller_back_mm": "420", "propeller_up_mm": "20",
    "controller_at": '"58 g, -130 mm"', "receiver_at": '"14 g, 60 mm"',
    "undercarriage_at": '"92 g, 300 mm"', "wing_servo_at": '"300 mm, 150 mm"',
    "tail_servo_back_mm": "260", "pack_v": "20.4", "top_speed_mps": "42",
    "fin_foot_up_mm": "45", "cruise_at": '"45, 22 m/s"', "charged_at": '"1800, 4"',
    "aileron_outer_mm": "540", "aileron_inner_mm": "320",
}  # fmt: skip
WIDTHS = {"_inner_mm": "60", "_outer_mm": "300", "_tip_width_mm": "30", "_width_mm": "40",
          "_gain": "0.04"}  # fmt: skip
HEAD = """\
# Answers for  aftlimit start NAME --from THIS_FILE : take the # away before each answer that you
# give, and put your own in place of the example. Lengths are in mm and weights in g unless the key
# ends in another unit (wing_span_in, mass_oz). x is where the wing's leading edge meets the
# body's side (of a delta not its front point in the middle, which lies further ahead); what lies
# behind it counts plus, ahead of it minus. A throw may be given in mm: aileron_up_mm.
"""


def template_text() -> str:
    """Return the file of answers to be filled in."""
    bundled = parse(data_folder("scenarios") / "answers" / f"{BUNDLED}.toml")
    lines = [HEAD.rstrip("\n"), f'schema = "{SCHEMA}"', ""]
    told: set[str] = set()
    for question in QUESTIONS:
        if question.key not in told:
            told.add(question.key)
            lines += [*_asked(question), f"# {question.key} = {_example(question, bundled)}", ""]
    return "\n".join(lines)


def _asked(question: Question) -> Iterator[str]:
    """Yield what is asked, where the ruler goes, and when it may be left out."""
    yield f"## {question.ask}"
    if question.ruler:
        yield f"##   {question.ruler}"
    if question.choices:
        yield f"##   one of: {', '.join(question.choices)}"
    for part in question.parts:
        yield f"##   {part.ask}: from {part.low:g} to {part.high:g} {_unit(part)}".rstrip()
    if question.high > question.low:
        yield f"##   from {question.low:g} to {question.high:g} {_unit(question)}".rstrip()
    kinds = {kind for x in QUESTIONS if x.key == question.key for kind in x.kinds}
    if len(kinds) < len(ALL):
        yield f"##   only for: {', '.join(kind for kind in ALL if kind in kinds)}"
    if question.needs is not None:
        key, values = question.needs
        yield f"##   only where {key} is {' or '.join(values) if values else 'given'}"
    if question.drive and DELTA[0] in kinds:
        yield f"##   of a delta only where {DRIVEN_BY} is {question.drive}"
    if question.key == "pack_in_it":
        yield "##   only where there are two packs or more"
    same = [x for x in QUESTIONS if x.key == question.key]
    needed = [kind for x in same if not x.optional for kind in x.kinds]
    blank = next((x.blank for x in same if x.optional), "")
    if not blank:
        yield "##   NEEDED"
        return
    of = f"; NEEDED of: {', '.join(needed)}" if needed else ""
    yield f"##   may be left out: {blank}{of}"


def _unit(question: Question) -> str:
    """Return the unit that a key ends in, as it is written."""
    unit = unit_of(question.key)
    if unit is not None:
        return unit.symbol
    return "degrees" if question.key.endswith("_deg") else ""


def _example(question: Question, bundled: Mapping[str, object]) -> str:
    """Return an answer as a file has it."""
    key = question.key
    if key == PACKS:
        return '["6s 3300 535 128", "6s 4000 640 138"]'
    if key in bundled:
        value = bundled[key]
        return f'"{value}"' if isinstance(value, str) else f"{value}"
    if key in EXAMPLES:
        return EXAMPLES[key]
    if question.choices:
        return f'"{question.choices[0]}"'
    return next(text for end, text in WIDTHS.items() if key.endswith(end))
