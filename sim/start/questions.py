"""Everything that is asked of a newcomer, in order: key, words, where the ruler goes, bounds.

A key ends in its unit; letters are those of the drawings (`sim.start.drawings`). A question
without an answer is refused unless it is optional: then the kind's default is taken.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import get_args

from sim.describe.known import Kind

Answer = float | str | tuple[str, ...]
JETS: tuple[str, ...] = ("fan_jet_strakes", "fan_jet")
ALL: tuple[str, ...] = get_args(Kind)
DELTA = ("delta",)
TAILED = tuple(kind for kind in ALL if kind not in DELTA)
PROPELLERS = tuple(kind for kind in TAILED if kind not in JETS)
FAN, PROPELLER = "fan", "propeller"
DRIVEN_BY = "driven_by"
PACKS = "packs"


@dataclass(frozen=True)
class Question:
    """One thing that is asked.

    ``needs`` is a key and the values of its answer with which it is asked (none: any answer).
    ``drive`` is what drives those of whom it is asked (none: either). ``blank`` says what is taken
    where nothing is answered; without it an answer is needed.
    """

    key: str
    ask: str
    ruler: str
    low: float = 0.0
    high: float = 0.0
    kinds: tuple[str, ...] = ALL
    choices: tuple[str, ...] = ()
    needs: tuple[str, tuple[str, ...]] | None = None
    blank: str = ""
    drive: str = ""

    @property
    def optional(self) -> bool:
        """Whether it may be left blank."""
        return bool(self.blank)


def _length(key: str, ask: str, ruler: str, low: float = 0.0, high: float = 5000.0,
            kinds: tuple[str, ...] = ALL, blank: str = "",
            needs: tuple[str, tuple[str, ...]] | None = None,
            drive: str = "") -> Question:  # fmt: skip
    return Question(key, ask, ruler, low, high, kinds, blank=blank, needs=needs, drive=drive)


def _flap(what: str, told: str, ends: str, kinds: tuple[str, ...] = ALL,
          needs: tuple[str, tuple[str, ...]] | None = None,
          blank: str = "as usual for the kind",
          low: float = 0.0) -> Iterator[Question]:  # fmt: skip
    """Yield what is asked of a flap: its width, and of one with a width the rest.

    ``low`` [mm] is the least that may be answered for where it begins.
    """
    width, wide = f"{what}_width_mm", (f"{what}_width_mm", ())
    yield _length(width, f"{told}: how wide at its inner end",
                  "hinge to trailing edge, square to the hinge; throws in mm are read there",
                  2, 1000, kinds, blank, needs)  # fmt: skip
    yield _length(f"{what}_tip_width_mm", f"{told}: how wide at its outer end",
                  "hinge to trailing edge", 1, 1000, kinds, "as wide as at its inner end",
                  wide)  # fmt: skip
    yield _length(f"{what}_inner_mm", f"{told}: where it begins", ends, low, 5000, kinds, AS_KIND,
                  wide)  # fmt: skip
    yield _length(f"{what}_outer_mm", f"{told}: where it ends", ends, 5, 5000, kinds, AS_KIND,
                  wide)  # fmt: skip


READ = "degrees (a phone laid on it reads them), or mm at its inner end (11 mm); centre to end"
THROW = "degrees, or mm at its inner end (11 mm); centre to end"
AT_ROOT = "degrees, or mm at its inner end (a whole tailplane: at its root); centre to end"
AS_KIND = "as usual for the kind"
KINDS_TOLD = (
    "strakes: sharp edges ahead of the wing; propeller_sport: trainer or sport model, its wing "
    "cambered and set up a little; aerobatic: symmetrical section, wing and tail in line; what you "
    "do not measure is taken as usual for it"
)
BELOW_FOOT = "of one that runs on below it, from there up: 0"
LEADING = ("wing_lead_up_mm", ())
TWO_FINS = ("fins", ("2",))
TWO_FANS = ("fans", ("2",))
WHEELED = ("wheels", ("nose", "tail"))
NO_WHEELS = "not known: how it lifts its nose to take off is not looked at"
NO_THIRD = (
    "tail wheel: under the body's end, nothing hangs on it; nose wheel: no take-off looked at"
)

SHAPE = (
    Question("kind", "What kind of aeroplane is it?", KINDS_TOLD, choices=ALL),
    _length("wing_span_mm", "Wing span", "A: tip to tip, straight across", 100, 10000),
    _length("wing_root_chord_mm", "Wing chord at the root",
            "B: at the body's side, leading to trailing edge, along the body", 20, 3000),
    _length("wing_tip_chord_mm", "Wing chord at the tip",
            "C: just inside the rounding of the tip, along the body", 5, 3000),
    _length("wing_tip_back_mm", "How far the tip's leading edge lies behind that of the root",
            "D: along the body from x to the tip's leading edge (ahead of x: minus)", -1500, 3000),
    _length("wing_tip_up_mm", "How much higher the tip is than the root",
            "from the table to the underside at tip, less at root (lower: minus)", -500, 1000,
            blank="0, a flat wing"),
    _length("wing_up_mm", "How far above the middle of the body the wing's root lies",
            "from the side, half-way up the body to the wing (below: minus)", -500, 500,
            blank="in the middle"),
    _length("strake_length_mm", "Strake: how far it runs forward",
            "S: from x forward to its front end, along the body", 20, 2000, ("fan_jet_strakes",)),
    _length("strake_width_mm", "Strake: how far it stands out at the wing",
            "T: from the body's side outwards, just ahead of the wing", 5, 500,
            ("fan_jet_strakes",)),
    _length("tail_back_mm", "Tailplane: how far its leading edge lies behind x",
            "E: along the body, from x to the tailplane's leading edge at the body", 50, 4000,
            TAILED),
    _length("tail_span_mm", "Tailplane: span", "G: tip to tip", 50, 3000, TAILED),
    _length("tail_root_chord_mm", "Tailplane: chord at the body",
            "F: with the elevator, along the body", 15, 1000, TAILED),
    _length("tail_tip_chord_mm", "Tailplane: chord at the tip",
            "H: with the elevator, just inside the rounding", 5, 1000, TAILED),
    _length("tail_tip_back_mm", "Tailplane: how far its tip's leading edge lies behind its root's",
            "along the body, as D of the wing", -500, 1000, TAILED),
    _length("tail_up_mm", "How far above the middle of the body the tailplane lies",
            "from the side (below: minus)", -500, 1000, TAILED, blank="in the middle"),
    Question("tail_moves", "Does the whole tailplane move, or an elevator on it?", "",
             kinds=TAILED, choices=("elevator", "whole")),
    Question("fins", "How many fins, 1 or 2?", "", choices=("1", "2")),
    _length("fin_apart_mm", "How far apart the fins stand", "at their feet", 20, 3000,
            needs=TWO_FINS),
    Question("fin_lean_deg", "How far the fins lean outwards",
             "degrees from upright; a phone laid on one reads it", 0, 60, needs=TWO_FINS),
    _length("fin_back_mm", "Fin: how far its leading edge lies behind x",
            "J: from the side, where it meets the body, along the body", -500, 4000),
    _length("fin_height_mm", "Fin: height", "K: along the fin, foot to top", 20, 1000),
    _length("fin_root_chord_mm", "Fin: chord at the foot", "L: with the rudder", 15, 1500),
    _length("fin_tip_chord_mm", "Fin: chord at the top", "M: with the rudder", 5, 1500),
    _length("fin_tip_back_mm", "Fin: how far its top's leading edge lies behind its foot's",
            "along the body", -500, 1500),
    _length("nose_ahead_mm", "How far the nose lies ahead of x",
            "N: along the body, to its very tip (spinner left out)", 20, 4000),
    _length("body_length_mm", "Length of the body", "P: nose to the very end of the body",
            100, 5000),
    _length("front_width_mm", "Width of the body, half-way from the nose to x", "U: across",
            5, 800),
    _length("middle_width_mm", "Width of the body at x", "V: across, at the wing's leading edge",
            5, 1000),
    _length("end_width_mm", "Width of the body at its end", "W: across", 2, 800),
    _length("front_height_mm", "Height of the body there, half-way from the nose to x",
            "u: from the side, canopy left out", 5, 800, blank=AS_KIND),
    _length("middle_height_mm", "Height of the body at x", "v", 5, 1000, blank=AS_KIND),
    _length("end_height_mm", "Height of the body at its end", "w", 2, 800, blank=AS_KIND),
)  # fmt: skip

INSIDE = (
    Question(PACKS, "Packs that you fly: cells, mAh, weight, length, one a line (6 4000 640 138)",
             "scales with leads and plug, ruler along it without; left out, the weight is reckoned "
             "from the label, the length from the weight, where its front edge lies is not told"),
    Question("mass_g", "What it weighs, ready to fly with a pack in",
             "on the kitchen scales, everything in", 50, 25000),
    Question("pack_in_it", "Which pack was in it then?", "its number or its mAh", 1, 8),
    _length("pack_back_mm", "Where that pack's middle lay, behind x",
            "Q: along the body, from x to the pack's middle (ahead of x: minus)", -4000, 4000),
    _length("balance_back_mm", "Where it balances with that pack there, behind x",
            "R: on two fingers or a stand, wheels down as it flies; from x, at the body's side: "
            "not from the nose, nor from the wing's front point in the middle",
            -2000, 3000),
    _length("tray_front_mm", "The foremost place your shortest pack's middle can lie, behind x",
            "with it pushed forward (ahead of x: minus); longer ones follow from their lengths",
            -4000, 4000),
    _length("tray_rear_mm", "The rearmost place your shortest pack's middle can lie, behind x",
            "with it pushed back (ahead of x: minus)", -4000, 4000),
    Question("lead_g", "Lead or other weight that is fixed in it", "", 1, 5000, blank="none"),
    _length("lead_back_mm", "Where that weight lies, behind x", "(ahead of x: minus)",
            -4000, 4000, needs=("lead_g", ())),
    Question(DRIVEN_BY, "What drives it, a fan or a propeller?", "", kinds=DELTA,
             choices=(FAN, PROPELLER)),
    Question("fans", "How many fans, 1 or 2?", "", kinds=(*JETS, *DELTA), choices=("1", "2"),
             drive=FAN),
    _length("fan_mm", "Fan: diameter inside its ring", "blade tip to blade tip; its label says it",
            20, 200, (*JETS, *DELTA), drive=FAN),
    _length("fan_apart_mm", "How far apart the fans lie", "middle to middle", 20, 2000,
            needs=TWO_FANS, drive=FAN),
    _length("fan_back_mm", "Fan: where its blades turn, behind x", "along the body",
            -3000, 4000, (*JETS, *DELTA), blank="as usual for the kind, assumed", drive=FAN),
    _length("nozzle_mm", "Nozzle: diameter of the hole at the very end", "inside", 15, 300,
            (*JETS, *DELTA), blank="85 % of the fan's ring", drive=FAN),
    Question("propeller_in", "Propeller: diameter in inches", "the first number on it", 3, 40,
             (*DELTA, *PROPELLERS), drive=PROPELLER),
    Question("pitch_in", "Propeller: pitch in inches", "the second number on it", 1.5, 30,
             (*DELTA, *PROPELLERS), drive=PROPELLER),
    _length("propeller_back_mm", "Propeller: where its blades turn, behind x",
            "along the body (at the nose, ahead of x: minus)", -4000, 5000, DELTA,
            drive=PROPELLER),
    Question("kv_rpm_per_v", "Motor: Kv", "rpm per volt, on its label", 50, 10000),
    Question("motor_g", "Motor with fan or propeller: weight of one",
             "or from the box", 3, 5000, blank="reckoned from the diameter"),
    Question("controller_a", "Speed controller: amperes on its label", "", 3, 500,
             blank="enough for the motor"),
    Question("servo_g", "Weight of one servo", "or from the label", 2, 300, blank=AS_KIND),
    Question("servo_torque_ncm", "Torque of one servo, with its unit (2.2 kg cm)",
             "on its label, at the voltage it gets: kg cm, N cm or oz in", 1, 2000, blank=AS_KIND),
    _length("static_thrust_g", "Pull at full throttle, standing still",
            "a luggage scale at its tail, a full pack, all fans together; a data sheet's will do, "
            "drawn wider: say so further on", 20, 50000,
            blank="not measured"),
    Question("static_current_a", "Current at full throttle, standing still",
             "amperes out of the pack, on a meter, or the data sheet's", 0.2, 1000,
             blank="not measured"),
    *_flap("aileron", "Aileron (of a delta: elevon)", "from the aeroplane's middle, across"),
    Question("aileron_up_deg", "Aileron: how far up at full stick", READ, 1, 60, TAILED),
    Question("aileron_down_deg", "Aileron: how far down", THROW, 1, 60, TAILED),
    Question("aileron_up_deg", "Elevon: how far up at full aileron stick alone", READ, 1, 45,
             ("delta",)),
    *_flap("elevator", "Elevator", "from the aeroplane's middle, across", TAILED,
           ("tail_moves", ("elevator",))),
    _length("pivot_back_mm", "Tailplane: how far its pivot lies behind its root's leading edge",
            "at the body's side, along the body", 1, 1000, TAILED, needs=("tail_moves", ("whole",)),
            blank="usual for the kind, in per cent of its mean chord"),
    Question("elevator_up_deg", "Elevator (or tailplane): trailing edge up, stick full back",
             AT_ROOT, 1, 60),
    Question("elevator_down_deg", "Elevator (or tailplane): trailing edge down, stick forward",
             AT_ROOT, 1, 60),
    # minus is read, to be told what to do (`relations`)
    *_flap("rudder", "Rudder", f"from the fin's foot, along the fin; {BELOW_FOOT}", low=-1000.0),
    Question("rudder_deg", "Rudder: how far to each side", THROW, 1, 60),
    Question("wheels", "Where is its third wheel, at the nose or at the tail, or has it none?", "",
             choices=("nose", "tail", "none"), blank="none: thrown by hand, or not known"),
    _length("main_wheel_back_mm", "Main wheels: how far behind x they touch the ground",
            "from the side, along the body (ahead of x: minus)", -2000, 4000, needs=WHEELED,
            blank=NO_WHEELS),
    _length("main_wheel_down_mm", "How far below the middle of the body they touch the ground",
            "from the side, square to the body, legs as they carry it", 10, 2000, needs=WHEELED,
            blank=NO_WHEELS),
    _length("third_wheel_back_mm", "Third wheel: how far behind x it touches the ground",
            "as the main wheels (ahead of x: minus)", -4000, 5000, needs=WHEELED, blank=NO_THIRD),
    _length("third_wheel_down_mm", "How far below the middle of the body it touches the ground",
            "as the main wheels (above it: minus)", -500, 2000, needs=WHEELED, blank=NO_THIRD),
    Question("gyro", "Is there a gyro in it, yes or no?", "", choices=("yes", "no")),
    *(
        Question(f"gyro_{axis}_gain", f"Gyro: its {axis} gain",
                 "degrees of surface per degree a second, as 'aftlimit gains' tells; not the dial",
                 0.001, 1.0, blank=AS_KIND, needs=("gyro", ("yes",)))
        for axis in ("roll", "pitch", "yaw")
    ),
    # last, so that answers piped from before it was asked do not slide
    Question("wing_section", "Wing section half-way out, by eye",
             "a straight edge under it: it lies on flat, or the underside bulges less than the "
             "top, or as much; or a plate of foam or sheet, as thick everywhere",
             choices=("flat_bottom", "semi_symmetrical", "symmetrical", "flat_plate"),
             blank=AS_KIND),
    Question("floor_m", "Floor: how low it may get before you call a flight lost",
             "height above the ground, trees and people; a recovery must be over above it", 0, 2000,
             blank="40 m, for testing in steps"),
    Question("ceiling_m", "Ceiling: the most height that law and club let you use there",
             "above the ground; manoeuvres begin there, spins from higher with leave", 1, 3000,
             blank="120 m, the usual legal one"),
    _length("wing_thickness_mm", "Wing: how thick at its root",
            "callipers, where it is thickest at the body's side", 1, 400, blank=AS_KIND),
    _length("wing_lead_up_mm",
            "Wing at its root: how much higher its leading edge lies than its trailing edge",
            "model on the table: a ruler upright from it to the middle of either edge, at the "
            "body's side; the first less the second", -300, 300, TAILED,
            blank="as usual for the kind, with its twist"),
    _length("tail_lead_up_mm", "Tailplane at its root: the same, the model not moved meanwhile",
            "elevator in line with it; one that moves as a whole as trimmed for level flight",
            -200, 200, TAILED, needs=LEADING),
    _length("wing_tip_lead_up_mm", "Wing at its tip: the same", "aileron in line with it",
            -200, 200, TAILED, needs=LEADING, blank=AS_KIND),
    *_flap("flap", "Landing flap", "from the aeroplane's middle, across", TAILED,
           blank="none: it lands without"),
    Question("flap_down_deg", "Landing flap: how far down as you land", THROW, 1, 60, TAILED,
             needs=("flap_width_mm", ())),
    Question("static_from", "Pull and current: measured, or off a data sheet?",
             "a sheet's are drawn as wide as if nobody had measured",
             choices=("measured", "data_sheet"), needs=("static_thrust_g", ()),
             blank="measured"),
    Question("elevator_more_up_deg", "A larger elevator throw that you would like to try, up",
             f"{AT_ROOT}; the study then flies it beside today's (of a delta: as elevator alone, "
             "down in proportion)", 1, 60, blank="none: today's throw alone"),
    Question("elevator_more_down_deg", "And down, with that", AT_ROOT, 1, 60, TAILED,
             needs=("elevator_more_up_deg", ()), blank="as today"),
    Question("wing_edge", "Wing: its leading edge, rounded or sharp?",
             "rounded: as a section's nose, or a plate's edge sanded round; sharp: a knife's edge, "
             "or a plate's cut square, from which air tears off at once",
             choices=("round", "sharp"),
             blank="as usual for the kind (a delta's sharp, all others' round)"),
    _length("propeller_back_mm", "Propeller: where its blades turn, behind x",
            "of one that pushes or stands on a pylon; along the body (ahead of x: minus)",
            -4000, 5000, PROPELLERS, blank="at the nose, which it pulls"),
    _length("propeller_up_mm", "Propeller: how far its middle lies above the middle of the body",
            "from the side (below: minus)", -500, 1000, (*DELTA, *PROPELLERS),
            needs=("propeller_back_mm", ()), blank="in the middle", drive=PROPELLER),
)  # fmt: skip

QUESTIONS = (*SHAPE, *INSIDE)
KEYS = frozenset(question.key for question in QUESTIONS)
