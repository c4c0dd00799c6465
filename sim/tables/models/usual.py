"""What measurements of a kind of aeroplane usually are: usual.toml."""

from sim.tables.typed import Ends, Table


class UsualOfKind(Table):
    """Bands outside of which a measurement is likely a slip; [-] but where the name says."""

    span_mm: Ends
    cubic_loading_kg_m3: Ends
    root_chord_over_span: Ends
    tip_over_root: Ends
    sweep_deg: Ends
    strake_length_over_root: Ends
    strake_width_over_span: Ends
    tail_area_over_wing: Ends
    tail_tip_over_root: Ends
    tail_arm_over_chord: Ends
    fin_height_over_span: Ends
    fin_root_over_height: Ends
    body_over_span: Ends
    nose_over_body: Ends
    width_over_body: Ends
    height_over_width: Ends
    pack_over_mass: Ends
    pack_wh_kg: Ends
    static_margin_pct: Ends
    diameter_over_span: Ends
    tip_speed_mps: Ends
    throw_deg: Ends
    up_over_down: Ends
    rudder_over_elevator: Ends
    servo_ncm_per_kg: Ends


class Usual(Table):
    """usual.toml: a table a kind."""

    fan_jet_strakes: UsualOfKind
    fan_jet: UsualOfKind
    delta: UsualOfKind
    propeller_sport: UsualOfKind
    aerobatic: UsualOfKind
    glider: UsualOfKind
