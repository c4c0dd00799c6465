"""Free-streamline plate (Rayleigh 1876): least normal force, and where it acts."""

import numpy as np
import pytest

from sim.aero.sections.flaps import separated_load
from sim.aero.sections.plates import plate_table
from sim.aero.sections.separated import rayleigh_normal_force, rayleigh_rear_share
from sim.core.loads.lookup import CM, CN
from sim.tables.reading import read_csv
from tests.validation.curves import at, naca0015, symmetric
from tests.validation.rows import absolute, band, cases, check, each

MADE_FROM = "sim.aero.sections.separated: centre_of_pressure"
SOURCE = "rayleigh1876"

# Between Rayleigh's plate (exact for its model) and Lindenburg's rule 0.368 + a/600°
CENTRE_BAND = [
    (30, 0.38, 0.42),
    (45, 0.41, 0.465),
    (60, 0.44, 0.485),
    (90, 0.49, 0.52),
    (150, 0.61, 0.62),
]


def centre(table, degrees):
    return 0.25 - at(table, degrees, CM) / at(table, degrees, CN)


def separated_tables():
    """Return what is fully separated at 45° and beyond, by its name."""
    return {
        "section": lambda: naca0015(200000),
        "wing of aspect ratio 4.4": lambda: naca0015(200000, 4.4),
        "plate of aspect ratio 3": lambda: plate_table(4.0, 3.0),
    }


# share of the force over share of the chord, rear 23 %: dz/dt by the hodograph of the plate, whose
# places are its t beyond +-1 and infinity cos a, by adaptive quadrature
REAR = [(20.0, 0.403), (30.0, 0.456), (45.0, 0.544), (60.0, 0.640), (90.0, 0.868)]


def load_centre(aspect_ratio):
    """Return x/c of the force whose shares flaps of all chords are given: the mean of them."""
    shares = np.linspace(0.01, 0.99, 50)
    return float(np.mean([separated_load(float(c), aspect_ratio) for c in shares]))


def rows():
    columns = read_csv("plate_free_streamline_rayleigh.csv").columns
    yield from each(SOURCE, "CN = 2 pi sin a/(4 + pi sin a), verified by quadrature", (
        (f"plate without base suction: CN at {a:g}°", float(cn),
         lambda a=a: rayleigh_normal_force(np.radians(a)))
        for a, cn in zip(columns["alpha_deg"], columns["CN"], strict=True)
    ), absolute(1e-5), "computed")  # fmt: skip
    yield from each(SOURCE, "free streamlines, independent quadrature", (
        (f"plate with a wake at {a:g}°: load of its rear 23 % over its mean", share,
         lambda a=a: rayleigh_rear_share(0.23, np.radians(a)) / 0.23)
        for a, share in REAR
    ), absolute(2e-3), "computed")  # fmt: skip
    for name, table in separated_tables().items():
        # a plate of aspect ratio 3 is fully separated only between 45 and 135°
        held = [line for line in CENTRE_BAND if "plate" not in name or 45 <= line[0] <= 135]
        yield from each("lindenburg2003", "between his rule and Rayleigh's plate", (
            (f"{name}: centre of pressure at {a}°, x/c", (low, high),
             lambda table=table, a=a: centre(table(), a))
            for a, low, high in held
        ), band(), "published", made_from=MADE_FROM)  # fmt: skip


@pytest.mark.parametrize("row", cases(rows()))
def test_row(row):
    check(row)


@pytest.mark.parametrize("aspect_ratio", [3.0, 6.0, 10.0])
def test_what_flaps_of_all_chords_carry_has_its_centre_where_lindenburg_has_it(aspect_ratio):
    # C. Lindenburg, NREL/TP-500-38060 (2003): x/c = 0.368 + a/600, fitted to measured sections;
    # Rayleigh's plate alone, without a wake's suction, has its centre at 0.415 at 45 degrees
    assert load_centre(aspect_ratio) == pytest.approx(0.368 + 45.0 / 600.0, abs=0.01)


@pytest.mark.parametrize("edge", ["round", "sharp"])
@pytest.mark.parametrize("reynolds", [40000, 160000, 1000000])
def test_free_streamline_plate_is_the_lower_bound(edge, reynolds):
    # CN of a 2-D plate without base suction; a 2-D section below is wrong
    degrees = np.linspace(0.5, 170.0, 340)
    table = symmetric(10.0, reynolds, np.inf, edge)
    assert np.all(at(table, degrees, CN) > rayleigh_normal_force(np.radians(degrees)))
