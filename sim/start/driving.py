"""What drives it, from a diameter and a label: motor, controller and packs filled in by kind."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from sim import tables

INCH_MM = 25.4
DENSITY = 1.225  # kg/m3 [ussa1976]


@dataclass(frozen=True)
class PackTold:
    """A pack as a file has it; ``weighed`` and ``long`` are False where that is reckoned."""

    name: str
    cells: int
    capacity_mah: int
    mass_g: float
    weighed: bool
    long: bool
    length_mm: float
    width_mm: float
    height_mm: float


def packs_told(lines: Sequence[str]) -> list[PackTold]:
    """Return packs from what was answered, ``6s 4000 640 138mm`` each; drives.toml [g, mm].

    Own: without a weight by the label; sizes from weight and density, and from the outline that is
    usual where no length was told.
    """
    usual = tables.drives().motor
    out: list[PackTold] = []
    for line in lines:
        words = line.split()
        cells, mah = int(words[0].rstrip("s")), int(words[1])
        told = [float(x.removesuffix("mm")) for x in words[2:] if x.endswith("mm")]
        weights = [float(x) for x in words[2:] if not x.endswith("mm")]
        reckoned = usual.pack_g_per_cell_ah * cells * mah / 1000.0 + usual.pack_leads_g
        grams = weights[0] if weights else reckoned
        mm3 = 1e6 * grams / 1000.0 / usual.pack_kg_l
        over, high = usual.pack_length_over_width, usual.pack_height_over_width
        length = told[0] if told else over * (mm3 / over / high) ** (1.0 / 3.0)
        width = sqrt(mm3 / length / high)
        name, twins = f"{cells}s_{mah}", sum(x.name.startswith(f"{cells}s_{mah}") for x in out)
        out.append(
            PackTold(
                f"{name}_{twins + 1}" if twins else name, cells, mah, grams, bool(weights),
                bool(told), length, width, width * high,
            )
        )  # fmt: skip
    return out


@dataclass(frozen=True)
class TrayTold:
    """Where a pack may lie [mm behind x]: its edges where all lengths are known, or its middle."""

    front_mm: float
    rear_mm: float
    edges: bool


def tray_told(front_mm: float, rear_mm: float, packs: Sequence[PackTold]) -> TrayTold:
    """Return the tray, from where the middle of the shortest pack may lie [mm behind x].

    Without all lengths all packs are taken to reach as far as that one.
    """
    if not all(pack.long for pack in packs):
        return TrayTold(front_mm, rear_mm, edges=False)
    half = 0.5 * min(pack.length_mm for pack in packs)
    return TrayTold(front_mm - half, rear_mm + half, edges=True)


@dataclass(frozen=True)
class Driven:
    """Constants of what drives it, in the units of a file."""

    diameter_mm: float
    mass_g: float
    rotor_inertia_kgm2: float
    resistance_mohm: float
    no_load_current_a: float
    full_current_a: float
    limit_a: float
    controller_mohm: float
    full_sweep_s: float
    hub_mm: float = 0.0
    nozzle_mm: float = 0.0


def driven(
    diameter_mm: float, kv: float, cells: int, *, pitch_mm: float | None = None,
    mass_g: float | None = None, limit_a: float | None = None, nozzle_mm: float | None = None,
) -> Driven:  # fmt: skip
    """Return what drives it; a fan without ``pitch_mm``, else a propeller.

    Current from power = C rho n³ D⁵ at the usual share of its speed without load, [W], [A]; by
    definition with the coefficients of drives.toml, whose spreads are drawn.
    """
    table = tables.drives()
    fan, motor = table.fan, table.motor
    volts = tables.plausible().nominal_cell_v * cells
    metres = diameter_mm / 1000.0
    if pitch_mm is None:
        share, coefficient = fan.full_speed_share, fan.power_coefficient
        grams = fan.mass_g_at_100_mm * (diameter_mm / 100.0) ** 3
        inertia = fan.inertia_kgm2_at_100_mm * (diameter_mm / 100.0) ** 5
        sweep = fan.full_sweep_s
    else:
        blade = table.propeller
        share = blade.full_speed_share
        coefficient = blade.power_coefficient_at_half_pitch * pitch_mm / diameter_mm / 0.5
        grams = blade.mass_g_at_300_mm * (diameter_mm / 300.0) ** 3
        inertia = blade.inertia_kgm2_at_300_mm * (diameter_mm / 300.0) ** 5
        sweep = blade.full_sweep_s
    turns = share * kv * volts / 60.0
    amperes = coefficient * DENSITY * turns**3 * metres**5 / volts
    usual = max(10.0, 5.0 * round(motor.limit_over_full * amperes / 5.0))
    limit = usual if limit_a is None else limit_a
    hub = fan.hub_over_duct * diameter_mm
    exit_mm = sqrt(fan.nozzle_over_ring * (diameter_mm**2 - hub**2))
    return Driven(
        diameter_mm=diameter_mm,
        mass_g=grams if mass_g is None else mass_g,
        rotor_inertia_kgm2=inertia,
        resistance_mohm=min(max(1000.0 * motor.volts_lost_share * volts / amperes, 0.1), 1000.0),
        no_load_current_a=min(motor.no_load_share * amperes, 20.0),
        full_current_a=amperes,
        limit_a=limit,
        controller_mohm=motor.controller_mohm_a / limit,
        full_sweep_s=sweep,
        hub_mm=hub,
        nozzle_mm=exit_mm if nozzle_mm is None else nozzle_mm,
    )
