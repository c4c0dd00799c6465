"""Weight spread by kind, held against a model that was swung as a whole.

A sport model of 1.27 m span and 0.25 m chord, swung: 1.959 kg, 0.0715, 0.0864 and 0.154 kg m2
(A. Dorobantu and others, System Identification for Small, Low-Cost, Fixed-Wing Unmanned
Aircraft, Journal of Aircraft 50 (4), 2013; figures `from memory`; its outline beyond span and
chord is that of any such model).
"""

import numpy as np
import pytest

from sim.describe import load_aeroplane
from sim.pack.spreads import spreads_of
from sim.start.writing import aeroplane_text
from sim.weigh import weigh_set_up

SWUNG = np.array([0.0715, 0.0864, 0.154])
MEASURED = {
    "kind": "propeller_sport", "wing_span_mm": 1270.0, "wing_root_chord_mm": 250.0,
    "wing_tip_chord_mm": 250.0, "wing_tip_back_mm": 0.0, "wing_up_mm": 40.0,
    "tail_back_mm": 610.0, "tail_span_mm": 480.0, "tail_root_chord_mm": 150.0,
    "tail_tip_chord_mm": 130.0, "tail_tip_back_mm": 20.0, "tail_moves": "elevator", "fins": "1",
    "fin_back_mm": 620.0, "fin_height_mm": 190.0, "fin_root_chord_mm": 170.0,
    "fin_tip_chord_mm": 110.0, "fin_tip_back_mm": 50.0, "nose_ahead_mm": 260.0,
    "body_length_mm": 1020.0, "front_width_mm": 85.0, "middle_width_mm": 90.0,
    "end_width_mm": 20.0, "packs": ("3s 4200 300",), "mass_g": 1959.0, "pack_back_mm": -80.0,
    "balance_back_mm": 75.0, "tray_front_mm": -150.0, "tray_rear_mm": 60.0, "propeller_in": 12.0,
    "pitch_in": 6.0, "kv_rpm_per_v": 850.0, "aileron_up_deg": 20.0, "aileron_down_deg": 20.0,
    "elevator_up_deg": 20.0, "elevator_down_deg": 20.0, "rudder_deg": 25.0, "gyro": "no",
}  # fmt: skip


def test_a_swung_sport_model_lies_within_the_spread(tmp_path):
    path = tmp_path / "sport.toml"
    path.write_text(aeroplane_text("sport", MEASURED), encoding="utf-8")
    aeroplane = load_aeroplane(path)
    found = np.diag(weigh_set_up(aeroplane).inertia_kg_m2)
    sd = {x.name: x.sd for x in spreads_of(aeroplane)}
    # second moments along the three axes: half the trace less each inertia
    ours, theirs = (0.5 * x.sum() - x for x in (found, SWUNG))
    # 35 % too much along the body, 1.8 deviations: where its pack lay is not known either
    assert ours[0] / theirs[0] == pytest.approx(1.0, abs=2.0 * sd["spread_lengthwise"])
    assert ours[1] / theirs[1] == pytest.approx(1.0, abs=2.0 * sd["spread_sideways"])
