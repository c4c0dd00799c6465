"""The aeroplane file of a newcomer's answers, with where the ruler went beside each key."""

from collections import defaultdict
from collections.abc import Mapping
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined

from sim import tables
from sim.describe.edge_throws import edge_mm
from sim.describe.masses import STATIC
from sim.describe.study import FLOOR_M
from sim.start import filling, heavy, shaping
from sim.start.asking.question import Answer, numbers_in
from sim.start.asking.questions import QUESTIONS
from sim.start.controls import THROWS, arm_mm, pivot_assumed
from sim.start.filled import Filled

TEMPLATE = "aeroplane.toml.jinja"
PLACE_SHARE = 0.1  # of the weight: what may be put at either end until someone says otherwise


def _number(value: float) -> str:
    """Return a number as a file has it: to a tenth, or three digits where it is small."""
    told = f"{value:.3g}" if abs(value) < 1.0 else f"{value:.1f}"
    told = told if float(told) else "0.0"
    return told if "." in told or "e" in told else f"{told}.0"


def _degrees(value: float) -> str:
    """Return an angle as a file has it, to the hundredth where it has one."""
    told = f"{value:.2f}".rstrip("0")
    return f"{told}0" if told.endswith(".") else told


def _travels(answers: Mapping[str, Answer]) -> dict[str, str]:
    """Return throws in mm at the trailing edge, where a ruler measured hinge or pivot."""
    told = {}
    for key in THROWS:
        deg, arm = answers.get(key), arm_mm(key, answers)
        if isinstance(deg, float) and arm is not None:
            told[key] = f"{edge_mm(arm, deg):.1f} mm"
    return told


def _remark(
    travels: Mapping[str, str], *keys: str, form: str = "               # %s at the trailing edge"
) -> str:
    """Return the travel of the first of these throws as a remark behind it, or nothing."""
    told = next((travels[key] for key in keys if key in travels), "")
    return told and form % told


def _pivot_remark(answers: Mapping[str, Answer]) -> str:
    """Return that throws in mm are read about a pivot that nobody measured, or nothing."""
    assumed = "elevator_up_deg" in answers and pivot_assumed("elevator_up_deg", answers)
    return (
        "# Of the whole tailplane they are about the usual pivot, not measured." if assumed else ""
    )


def _angle_remarks(filled: Filled) -> dict[str, dict[str, str]]:
    """Return what is to be said beside a surface's angles, by its role; "" where nothing."""
    wing = {}
    for key, told in (("incidence", "by the heights of wing's and tailplane's edges"),
                      ("washout", "by the heights of the edges at root and tip")):  # fmt: skip
        usual = f"surfaces.wing.{key}_deg" in filled.assumed
        wing[key] = f"          # {'usual for the kind: measure it' if usual else told}"
    tail = {"incidence": "          # the wing's is told against it", "washout": ""}
    return defaultdict(lambda: {"incidence": "", "washout": ""}, wing=wing, tail=tail)


def _section_remarks(filled: Filled) -> dict[str, str]:
    """Return what is to be said beside each section, by the surface's role; "" where nothing."""
    said = [] if "wing_edge" in filled.answers else ["its edge is usual for the kind: look at it"]
    wing = shaping.surfaces(filled)[0]
    thinnest = float(min(tables.section_shape().thickness_pct))
    if wing.thickness_pct < thinnest:
        said.append(f"thinner than {thinnest:g} %: stalls as one of {thinnest:g} % does")
    return defaultdict(str, {"wing": "  # " + "; ".join(said)} if said else {})


def _power(filled: Filled) -> list[tuple[str, float, str]]:
    """Return measured keys that tell of power, with values and a remark each."""
    sheet = ", off a data sheet" if filled.answers.get("static_from") == "data_sheet" else ""
    out = [
        (key, filled.number(key), f"full throttle, standing still{sheet}")
        for key in STATIC
        if key in filled.answers
    ]
    lone = {"pack_v": "of the pack, read beside that current",
            "top_speed_mps": "level, full throttle"}  # fmt: skip
    out += [(key, filled.number(key), text) for key, text in lone.items() if key in filled.answers]
    lines = {
        "cruise_at": ("level flight at this throttle", "and this speed"),
        "charged_at": ("by the charger, after a usual flight", "of so many minutes"),
    }
    for question in QUESTIONS:
        told = numbers_in(filled.answers.get(question.key)) if question.key in lines else []
        keys = [part.key for part in question.parts]
        out += zip(keys, told, lines.get(question.key, ()), strict=False)
    return out


@cache
def _environment() -> Environment:
    """Return what fills the template, which is compiled once."""
    env = Environment(
        loader=PackageLoader("sim.start", "."), undefined=StrictUndefined, autoescape=False,
        keep_trailing_newline=True,
    )  # fmt: skip
    env.filters["n"] = _number
    env.filters["deg"] = _degrees
    env.filters["travel"] = _remark
    return env


def aeroplane_text(name: str, answers: Mapping[str, Answer]) -> str:
    """Return the file of an aeroplane, TOML with comments.

    Parameters
    ----------
    name : str
        Also names the file.
    answers : mapping
        Every question that the kind asks, but for optional ones.
    """
    filled = filling.fill(answers)
    usual, number = filled.usual, filled.number
    end, ahead, drive = filled.end_mm, number("nose_ahead_mm"), filled.drive
    apart = 0.5 * number("fan_apart_mm")
    at, high = (filled.fan_back_mm, 0.0) if filled.fan else filled.propeller_place
    units = [
        {"name": unit, "aft_mm": at, "right_mm": side, "up_mm": high}
        for unit, side in zip(filling.fan_names(filled), (-apart, apart), strict=False)
    ]
    room = tables.drives().fan.inlet_over_duct * drive.diameter_mm
    measured = all(f"{place}_height_mm" in answers for place in ("front", "middle", "end"))
    most = round(PLACE_SHARE * number("mass_g"))
    return _environment().get_template(TEMPLATE).render(
        name=name, title=f"{name.replace('_', ' ').capitalize()}, {usual.title}",
        kind=filled.kind, assumed=filled.assumed, from_box=filled.from_box, flying=usual.flying,
        surfaces=shaping.surfaces(filled), remarks=_section_remarks(filled),
        angles=_angle_remarks(filled),
        shape=usual.shape, cuts=filled.cuts,
        heights="at u, v, w" if measured else "in part usual for the kind",
        mass_g=number("mass_g"), balance_mm=number("balance_back_mm"),
        parts=heavy.parts(filled), lead=heavy.lead(filled), packs=filled.packs,
        pack_in_it=filled.pack_in_it.name,
        other_pack=next((x.name for x in filled.packs if x.name != filled.pack_in_it.name), ""),
        pack_mm=number("pack_back_mm"),
        tray=filled.tray,
        places=[{"name": "nose", "aft_mm": -0.9 * ahead, "max_g": most},
                {"name": "tail", "aft_mm": end - 0.05 * (end + ahead), "max_g": most}],
        fan=tables.drives().fan if filled.fan else None, blade=tables.drives().propeller,
        units=units, at_nose=at <= -ahead,
        inlet_mm=max(at - room, 0.0 - 0.9 * ahead), exit_mm=max(end, at + 20.0),
        drive=drive, diameter_in=number("propeller_in"), pitch_in=number("pitch_in"),
        kv=number("kv_rpm_per_v"), servo=usual.servo,
        torque_ncm=number("servo_torque_ncm", usual.servo.torque_ncm),
        power=_power(filled),
        gains=[(axis, number(f"gyro_{axis}_gain", getattr(usual.flying, f"{axis}_gain")))
               for axis in ("roll", "pitch", "yaw")],
        channels=shaping.channels(filled), travels=_travels(answers),
        pivot_remark=_pivot_remark(answers),
        more=shaping.more_throw(filled),
        expo=usual.flaps.expo_pct, gyro=answers.get("gyro") == "yes",
        wheels=filled.wheels, wheeled=answers.get("wheels") in ("nose", "tail"),
        floor_m=number("floor_m", FLOOR_M), floor_told="floor_m" in answers,
        ceiling_m=number("ceiling_m", tables.card().ceiling_m), ceiling_told="ceiling_m" in answers,
    )  # fmt: skip
