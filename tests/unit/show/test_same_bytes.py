"""The same inputs give the same files, byte for byte, in any process on any day."""

import hashlib
import io
import json
import os
import subprocess
import sys
import tempfile
from dataclasses import replace
from pathlib import Path

from sim.describe import load_aeroplane
from sim.record.models.recording import Recording
from sim.record.study import flights_csv
from sim.show.card.blocks import Layout, Words
from sim.show.card.page import card_page
from sim.show.card.pdf import card_pdf
from sim.show.drawing.canvas import one_axes, page_svg, save
from sim.show.figures.balance_scale import draw_balance_scale
from sim.show.replay.page import replay_section
from sim.show.report.report import Inserts, report_html
from tests.samples.results import result
from tests.unit.record.test_playable import a_recording

TITLE = r"costs $5 and $6, $\frac{a$"


def made() -> dict[str, bytes]:
    """Return everything that is made of a sample of a study, by kind."""
    jet, every = load_aeroplane("display_jet"), result()
    found = replace(every, setups=every.setups[:2], aft_limits=every.aft_limits[:1], changes=None)
    flight = Recording.model_validate({**a_recording(), "kept": "worst"})
    inserts = Inserts(replay=replay_section([flight]))
    card = Layout("a card", [Words(TITLE)], [Words("step one")])
    return {
        "report": report_html(found, jet, inserts=inserts).encode(),
        "flights": flights_csv(found).encode(),
        "recording": json.dumps(flight.content()).encode(),
        "card": card_page(card, 11.0).encode(),
        "sheet": bytes(card_pdf(card, 11.0)),
        **pictures(jet, found),
    }


def pictures(jet, found) -> dict[str, bytes]:
    """Return one figure in each kind of file."""
    out = {}
    with tempfile.TemporaryDirectory() as folder:
        for kind in ("png", "svg", "pdf"):
            figure, axes = one_axes(6.0, 4.0)
            draw_balance_scale(axes, jet, found.setups, found.aft_limits, 95.0)
            axes.set_title(TITLE)
            out[kind] = save(figure, Path(folder) / f"a.{kind}", dpi=60.0).read_bytes()
    return out


def digests() -> dict[str, str]:
    return {kind: hashlib.sha256(data).hexdigest() for kind, data in made().items()}


def test_two_processes_make_the_same_bytes_whatever_the_order_of_sets():
    done = subprocess.run(
        [sys.executable, "-m", "tests.unit.show.test_same_bytes"],
        env=os.environ | {"PYTHONHASHSEED": "4711", "PYTHONPATH": os.pathsep.join(sys.path)},
        cwd=Path(__file__).parents[3], capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert json.loads(done.stdout) == digests()


def test_a_dollar_in_a_title_is_no_formula():
    figure, axes = one_axes(3.0, 2.0)
    axes.set_title(TITLE)
    axes.set_xlabel("$5 $x_1$")
    text = page_svg(figure, "x")
    assert "costs $5 and $6, $\\frac{a$" in text
    assert "$5 $x_1$" in text
    figure.savefig(io.BytesIO(), format="png")  # in anybody's style, it would raise


if __name__ == "__main__":
    print(json.dumps(digests()))
