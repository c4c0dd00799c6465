"""What a model aeroplane usually is: plausible.toml."""

from typing import Annotated

from sim.describe.quantity import between
from sim.tables.typed import Ends, Table


class Plausible(Table):
    """plausible.toml: low and high end of each band."""

    wing_loading_g_dm2: Ends
    aspect_ratio: Ends
    fin_dihedral_deg: Ends
    length_over_span: Ends
    balance_pct_mac: Ends
    rough_margin_pct: Ends
    surface_g_dm2: Ends
    skin_g_dm2: Ends
    part_g: Ends
    part_kg_l: Ends
    pack_kg_l: Ends
    pack_wh_kg: Ends
    nominal_cell_v: Annotated[float, between(1.0, 5.0, "V")]
    pack_mohm_ah: Ends
    roll_radius_over_span: Ends
    pitch_radius_over_length: Ends
    part_share: Ends
    senses_over_stall: Annotated[float, between(1.05, 4.0)]
    reversed_share: Annotated[float, between(0.0, 0.5)]
    yaws_from_dihedral_deg: Annotated[float, between(0.0, 90.0, "degrees")]
    little_margin_pct: Annotated[float, between(-20.0, 40.0, "% MAC")]
    unbalanced_pct_mac: Annotated[float, between(0.0, 50.0, "% MAC")]
