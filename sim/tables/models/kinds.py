"""What a kind of aeroplane usually is, for what its pilot has not measured: kinds.toml."""

from typing import Annotated, Literal

from sim.describe.known import Kind
from sim.describe.quantity import Filled, Text, between
from sim.tables.typed import Count, Ends, Factor, Metres, Percent, Share, SignedAngle, Table

Edge = Literal["round", "sharp"]
Seen = Literal["flat_bottom", "semi_symmetrical", "symmetrical", "flat_plate"]


class Shape(Table):
    """Sections, angles and the body's cross-sections."""

    thickness_pct: Annotated[float, between(0.5, 30.0, "%")]
    camber_pct: Annotated[float, between(-10.0, 10.0, "%")]
    edge: Edge
    tail_thickness_pct: Annotated[float, between(0.5, 30.0, "%")]
    incidence_deg: SignedAngle
    washout_deg: SignedAngle
    front_height_over_width: Factor
    middle_height_over_width: Factor
    end_height_over_width: Factor
    nose_over_front: Factor
    corner_pct: Percent
    tilt_deg: SignedAngle
    side_tilt_deg: SignedAngle


class Flaps(Table):
    """Where movable parts lie, in per cent of the panel's span and of the chord."""

    aileron_inner_pct: Percent
    aileron_outer_pct: Percent
    aileron_chord_pct: Percent
    elevator_chord_pct: Percent
    rudder_chord_pct: Percent
    pivot_pct: Percent
    expo_pct: Percent


class Masses(Table):
    """How what is not listed is spread: relative weights by area, and what lies in the body."""

    wing_g_dm2: Factor
    strake_g_dm2: Factor
    tail_g_dm2: Factor
    fin_g_dm2: Factor
    skin_g_dm2: Factor
    fittings_share: Annotated[float, between(0.05, 0.9)]
    fittings_over_body: Annotated[float, between(0.05, 1.0)]


class Servo(Table):
    """A usual servo with its linkage."""

    mass_g: Factor
    rate_dps: Annotated[float, between(20.0, 3000.0)]
    lag_s: Factor
    deadband_deg: Factor
    torque_ncm: Annotated[float, between(1.0, 2000.0)]


class Flying(Table):
    """What it stands, how a gyro of it is set, and what a study of it flies."""

    max_load_factor_g: Factor
    never_exceed_mps: Annotated[float, between(8.0, 200.0)]
    roll_gain: Factor
    pitch_gain: Factor
    yaw_gain: Factor
    manoeuvres: Filled[Text]
    recoveries: Filled[Text]


class KindOfAeroplane(Table):
    """Everything about one kind."""

    title: Text
    shape: Shape
    flaps: Flaps
    masses: Masses
    servo: Servo
    flying: Flying


class StudyDefaults(Table):
    """Set-ups and bounds of the study of an aeroplane that has no study of its own."""

    steps_aft_mm: Filled[Factor]
    seed: Annotated[int, between(0, 10**6)]
    draws: Count
    draws_most: Count
    search_margin_pct: Ends
    spin_entry_m: Metres
    from_high: Filled[Text]


class BodyBetween(Table):
    """A body between the places measured, a strake's end, a fan's place, the least of fittings."""

    CURVES = (("rear_at", "rear_way"),)

    nose_at: Share
    nose_way: Share
    rear_at: Filled[Share]
    rear_way: Filled[Share]
    strake_tip_over_length: Share
    fan_over_rear: Share
    fittings_least: Share


class SectionSeen(Table):
    """What a section is, by its look."""

    camber_pct: Annotated[float, between(-10.0, 10.0, "%")]


class Kinds(Table):
    """kinds.toml."""

    kinds: dict[Kind, KindOfAeroplane]
    body: BodyBetween
    sections: dict[Seen, SectionSeen]
    study: StudyDefaults
