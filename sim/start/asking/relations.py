"""What answers must be to each other, whatever the kind: what cannot be is asked again."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from sim import tables
from sim.describe.edge_throws import angle_deg, edge_mm
from sim.describe.quantity import MOST_THROW_DEG
from sim.start.asking.question import DELTA, PACKS, Answer, numbers_in
from sim.start.controls import MORE_UP, PIVOT, PIVOT_PCT, READING_MM, arm_mm, mean_chord
from sim.start.driving import TrayTold, packs_told, tray_told
from sim.start.planform import Measured, from_the_side

TRAY = ("front", "rear")
MOST_SET = 0.17  # sine of the 10 degrees that a file may have of twist
BEYOND = 0.25  # of its length that a propeller or lead may lie off the body's ends (judgement)


@dataclass(frozen=True)
class Relation:
    """A key, what it is held against, whether it holds, and what is told if it does not."""

    key: str
    others: tuple[str, ...]
    holds: Callable[[float, list[float]], bool]
    text: str


RELATIONS = (
    Relation("body_length_mm", ("nose_ahead_mm",), lambda x, o: x > o[0] + 20.0,
             "must be more than the nose ahead of x, {0:g} mm: the body runs on behind x"),
    Relation("pack_in_it", (PACKS,), lambda x, o: x <= o[0] and x == int(x),
             "must be the number of one of the {0:g} packs"),
    Relation("pack_back_mm", ("nose_ahead_mm", "body_length_mm"),
             lambda x, o: -o[0] < x < o[1] - o[0],
             "must lie inside the body, {0:g} mm ahead of x to {1:g} mm behind its nose"),
    Relation("tray_front_mm", ("nose_ahead_mm", "pack_back_mm"), lambda x, o: -o[0] <= x <= o[1],
             "must lie behind the nose, -{0:g}, and not behind where the pack lay, {1:g} mm"),
    Relation("tray_rear_mm", ("pack_back_mm", "tray_front_mm", "nose_ahead_mm", "body_length_mm"),
             lambda x, o: x >= o[0] and o[1] < x <= o[3] - o[2],
             "must lie inside the body, behind the foremost place, {1:g}, and not ahead of where "
             "the pack lay, {0:g} mm"),
    Relation("fan_back_mm", ("nose_ahead_mm",), lambda x, o: x > -0.8 * o[0],
             "must lie well behind the nose, -{0:g} mm"),
    Relation("propeller_back_mm", ("nose_ahead_mm", "body_length_mm"),
             lambda x, o: -o[0] - BEYOND * o[1] <= x <= (1.0 + BEYOND) * o[1] - o[0],
             "must lie within a quarter of the body's length, {1:g} mm, of the body, whose nose "
             "lies {0:g} ahead of x"),
    Relation("lead_back_mm", ("nose_ahead_mm", "body_length_mm"),
             lambda x, o: -o[0] - BEYOND * o[1] <= x <= (1.0 + BEYOND) * o[1] - o[0],
             "must lie within a quarter of the body's length, {1:g} mm, of the body, whose nose "
             "lies {0:g} ahead of x; behind x is plus"),
    Relation("nozzle_mm", ("fan_mm",), lambda x, o: 0.55 * o[0] <= x <= o[0],
             "must be 55 to 100 % of the fan's diameter, {0:g} mm"),
    Relation("pitch_in", ("propeller_in",), lambda x, o: 0.25 * o[0] <= x <= 1.5 * o[0],
             "must be a quarter to one and a half times the diameter, {0:g} in"),
    *(
        Relation(f"{what}_width_mm", (chord,), lambda x, o: 0.03 * o[0] <= x <= 0.8 * o[0],
                 "must be 3 to 80 % of the root chord, {0:g} mm")
        for what, chord in (("aileron", "wing_root_chord_mm"), ("flap", "wing_root_chord_mm"),
                            ("elevator", "tail_root_chord_mm"),
                            ("rudder", "fin_root_chord_mm"))
    ),
    *(
        Relation(f"{what}_outer_mm", (f"{what}_inner_mm", f"{plane}_span_mm"),
                 lambda x, o: o[0] < x <= 0.5 * o[1],
                 "must lie beyond its inner end, {0:g} mm, and within half of the whole span, "
                 "which is {1:g} mm from tip to tip")
        for what, plane in (("aileron", "wing"), ("flap", "wing"), ("elevator", "tail"))
    ),
    Relation("rudder_outer_mm", ("rudder_inner_mm", "fin_height_mm"),
             lambda x, o: o[0] < x <= o[1],
             "must lie above its lower end, {0:g} mm, and not above the fin, {1:g} mm"),
    Relation("rudder_inner_mm", ("fin_height_mm",), lambda x, o: x >= -o[0],
             "must not reach further below the fin's foot than the fin is high, {0:g} mm"),
    Relation("ceiling_m", ("floor_m",), lambda x, o: x > o[0],
             "must be more than the floor, {0:g} m"),
    Relation("flap_outer_mm", ("aileron_inner_mm",), lambda x, o: x <= o[0],
             "must not reach beyond where the aileron begins, {0:g} mm"),
    Relation("wing_thickness_mm", ("wing_root_chord_mm",), lambda x, o: 0.01 <= x / o[0] <= 0.3,
             "must be 1 to 30 % of the chord there, {0:g} mm"),
    *(
        Relation(key, ("wing_lead_up_mm", "wing_root_chord_mm", chord),
                 lambda x, o: abs(o[0] / o[1] - x / o[2]) <= MOST_SET,
                 "must leave it within 10 degrees of the wing's root, {0:g} mm over {1:g}; the "
                 "chord here is {2:g} mm")
        for key, chord in (("tail_lead_up_mm", "tail_root_chord_mm"),
                           ("wing_tip_lead_up_mm", "wing_tip_chord_mm"))
    ),
    Relation("elevator_more_up_deg", ("elevator_up_deg",), lambda x, o: x > o[0],
             "must be more than today's, {0:g} degrees"),
    Relation("wing_tip_up_mm", ("wing_span_mm",), lambda x, o: abs(x) <= 0.2 * o[0],
             "must be no more than a fifth of the span, {0:g} mm"),
)  # fmt: skip


def _number(answers: Mapping[str, Answer], key: str) -> float | None:
    value = answers.get(key)
    if isinstance(value, tuple):
        return float(len(value))
    return value if isinstance(value, float) else None


def broken(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Yield the key of each answer that cannot be beside the others, and why."""
    for relation in RELATIONS:
        value = _number(answers, relation.key)
        others = [_number(answers, key) for key in relation.others]
        known = [x for x in others if x is not None]
        if value is None or len(known) < len(others):
            continue
        if not relation.holds(value, known):
            yield relation.key, f"{relation.text.format(*known)}; got {value:g}"
    yield from _on_the_tray(answers)
    yield from _lines(answers)
    yield from _volts(answers)
    yield from _wheels(answers)
    yield from _pivot(answers)
    yield from _elevons(answers)


def _on_the_tray(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Yield a tray that leaves no room for a pack, or not for where the one weighed lay."""
    lines, front, rear = answers.get(PACKS), *(_number(answers, f"tray_{x}_mm") for x in TRAY)
    if not isinstance(lines, tuple) or front is None or rear is None or front >= rear:
        return
    packs = packs_told(lines)
    tray = tray_told(front, rear, packs)
    if not tray.edges:
        return
    for pack in packs:
        if pack.length_mm > tray.rear_mm - tray.front_mm:
            room = f"{tray.rear_mm - tray.front_mm:g} mm from end to end"
            yield (
                "tray_rear_mm",
                (f"leaves no room for {pack.name}, {pack.length_mm:g} mm long: the tray is {room}"),
            )
    number, back = _number(answers, "pack_in_it") or 1.0, _number(answers, "pack_back_mm")
    inside = packs[min(int(number), len(packs)) - 1]
    half = 0.5 * inside.length_mm
    if back is None or pack_fits(back, half, tray):
        return
    ahead = back - half < tray.front_mm
    end, lies = ("front", "ahead of") if ahead else ("rear", "behind")
    place = tray.front_mm + half if ahead else tray.rear_mm - half
    yield (
        f"tray_{end}_mm",
        (
            f"lets the middle of {inside.name}, {inside.length_mm:g} mm long, lie no further than "
            f"{place:g}; it lay {lies} that, at {back:g}. Look at tray and lengths again"
        ),
    )


def _lines(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Yield lines of weight and place that put a thing far off the body, or beyond the wing."""
    nose, length = (_number(answers, key) for key in ("nose_ahead_mm", "body_length_mm"))
    span = _number(answers, "wing_span_mm")
    for key in ("controller_at", "receiver_at"):
        told = numbers_in(answers.get(key))
        if not told or nose is None or length is None:
            continue
        first, last = -nose - BEYOND * length, (1.0 + BEYOND) * length - nose
        if not first <= told[1] <= last:
            text = f"must lie within a quarter of the body's length, {length:g} mm, of the body, "
            whose = f"whose nose lies {nose:g} ahead of x; behind x is plus"
            yield key, f"{text}{whose}; got {told[1]:g}"
    servo, fin = _number(answers, "tail_servo_back_mm"), _number(answers, "fin_back_mm")
    if servo is not None and nose is not None and length is not None and fin is not None:
        # in the fin, of a twin boom far behind its body
        end = fin + (_number(answers, "fin_root_chord_mm") or 0.0)
        last = max((1.0 + BEYOND) * length - nose, end)
        if not -nose <= servo <= last:
            text = f"must lie {-nose:g} to {last:g} behind x, from the nose to the fin's end"
            yield "tail_servo_back_mm", f"{text}; got {servo:g}"
    out = numbers_in(answers.get("wing_servo_at"))
    if out and span is not None and out[0] >= 0.5 * span:
        text = f"must lie within half of the span, {span:g} mm from tip to tip"
        yield "wing_servo_at", f"{text}; got {out[0]:g} from the middle"


def _volts(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Yield a voltage under load that the pack weighed cannot have, cells of power_fit.toml [V]."""
    lines, volts = answers.get(PACKS), _number(answers, "pack_v")
    if not isinstance(lines, tuple) or volts is None:
        return
    number = int(_number(answers, "pack_in_it") or 1.0)
    cells = packs_told(lines)[min(number, len(lines)) - 1].cells
    low, high = (cells * x for x in tables.power_fit().cell_v)
    if not low <= volts <= high:
        text = f"must be {low:g} to {high:g}: of a pack of {cells} cells, under load"
        yield "pack_v", f"{text}; got {volts:g}"


def pack_fits(back_mm: float, half_mm: float, tray: TrayTold) -> bool:
    """Return whether a pack whose middle lay somewhere lay on the tray, to a ruler's reading."""
    front, rear = back_mm - half_mm, back_mm + half_mm
    return tray.front_mm - READING_MM <= front and rear <= tray.rear_mm + READING_MM


def _wheels(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Yield a third wheel on the wrong side of the main ones."""
    main, third = (_number(answers, f"{name}_wheel_back_mm") for name in ("main", "third"))
    if main is None or third is None:
        return
    ahead = answers.get("wheels") == "nose"
    if third >= main if ahead else third <= main:
        side = "ahead of" if ahead else "behind"
        yield "third_wheel_back_mm", f"must lie {side} the main wheels, {main:g}; got {third:g}"


def _pivot(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Yield a pivot that lies where no file may have it."""
    back, span, root, tip, tip_back = (
        _number(answers, key)
        for key in (PIVOT, "tail_span_mm", "tail_root_chord_mm", "tail_tip_chord_mm",
                    "tail_tip_back_mm")
    )  # fmt: skip
    if back is None or span is None or root is None or tip is None or tip_back is None:
        return
    lead, mean = mean_chord(from_the_side(Measured(0.0, span, root, tip, tip_back), 0.0))
    low, high = (lead + 0.01 * pct * mean for pct in PIVOT_PCT)
    if not low <= back <= high:
        text = f"must lie {low:.0f} to {high:.0f} mm behind the root's leading edge"
        yield PIVOT, f"{text}, 0 to 60 % of the mean chord; got {back:g}"


def _elevons(answers: Mapping[str, Answer]) -> Iterator[tuple[str, str]]:
    """Yield a throw of a delta with which its elevons, moved by two sticks, go too far."""
    up, down, roll = (
        _number(answers, key) for key in ("elevator_up_deg", "elevator_down_deg", "aileron_up_deg")
    )
    if answers.get("kind") not in DELTA or up is None or down is None or roll is None:
        return
    told = partial(throw_text, answers)
    for key in ("elevator_up_deg", MORE_UP):
        most = _number(answers, key)
        if most is not None and most + roll > MOST_THROW_DEG:
            text = f"must leave the elevons at most {MOST_THROW_DEG:g} degrees up with both sticks"
            own = f"the ailerons' {told('aileron_up_deg', roll)} come on top"
            yield key, f"{text}: {own}; got {told(key, most)}"
    both = down * (up + roll) / up
    if up < down and both > MOST_THROW_DEG:
        text = f"must be less far from the throw down, {told('elevator_down_deg', down)}"
        why = (
            "one proportion holds for both sticks of an elevon, and it would go "
            f"{both:.0f} degrees down, of {MOST_THROW_DEG:g} that are possible"
        )
        got, ten = told("elevator_up_deg", up), _ten_times(answers, up)
        meant = f"; likely meant {told('elevator_up_deg', ten)}, a decimal point"
        likely = meant if 0.5 <= ten / down <= 2.0 else ""
        yield "elevator_up_deg", f"{text}: {why}; got {got}{likely}"


def _ten_times(answers: Mapping[str, Answer], deg: float) -> float:
    """Return ten times an elevator's throw [degrees], by its travel where its width is known."""
    arm = arm_mm("elevator_up_deg", answers)
    if arm is None or 10.0 * edge_mm(arm, deg) >= arm:
        return 10.0 * deg
    return angle_deg(10.0 * edge_mm(arm, deg), arm)


def throw_text(answers: Mapping[str, Answer], key: str, deg: float) -> str:
    """Return a throw in degrees, and in mm at the trailing edge where its width is known."""
    arm = arm_mm(key, answers)
    travel = "" if arm is None else f" ({edge_mm(arm, deg):.3g} mm)"
    return f"{deg:.3g} degrees{travel}"


def answer_text(answers: Mapping[str, Answer], key: str, value: float) -> str:
    """Return a number of a key as a pilot measures it: throws [degrees] in mm at the edge too."""
    throw = key.endswith("_deg") and arm_mm(key, answers) is not None
    return throw_text(answers, key, value) if throw else f"{value:g}"
