"""The report on a phone, 390 px wide, with seven set-ups of long names: nothing is cut unsaid."""

import base64
import io
import re
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from sim.describe import load_aeroplane
from sim.show.report.report import save_report
from tests.samples.chromium import CHROMIUM, DRIVER, MISSING, browser
from tests.samples.results import limit, result, setup

pytestmark = pytest.mark.skipif(
    CHROMIUM is None or DRIVER is None,
    reason=f"{MISSING} not found: on Debian, apt-get install chromium chromium-driver",
)
NAMES = (
    "smoke_canister_and_large_pack_forward", "smoke_canister_and_large_pack_middle",
    "smoke_canister_and_large_pack_far_aft", "small_pack_in_the_nose_with_lead_ballast",
    "small_pack_as_the_club_flies_it_today", "small_pack_with_balance_further_aft",
    "small_pack_with_balance_very_far_aft_of_all",
)  # fmt: skip
LETTERS_PX = 8.0  # the smallest that can still be read on a phone held close; judgement
SWIPE = "[...document.querySelectorAll('figure')].map((f) => [f.querySelector('.swipe')"
SWIPE += ".getBoundingClientRect().height, f.querySelector('.wide').scrollWidth"
SWIPE += " - f.querySelector('.wide').clientWidth])"


@pytest.fixture(scope="module")
def window(tmp_path_factory):
    setups = tuple(setup(name, 160.0 + 9.0 * i, 18 * i) for i, name in enumerate(NAMES))
    study = replace(result(), setups=setups, aft_limits=(limit("6s_4000", 200.0),))
    path = tmp_path_factory.mktemp("phone") / "report.html"
    save_report(study, load_aeroplane("display_jet"), path)
    with browser(tmp_path_factory.mktemp("browser")) as opened:
        opened.page = path
        yield opened


@pytest.fixture
def phone(window):
    window.size(390, 844, touch=True)
    window.open(window.page)
    window.run("document.querySelectorAll('details').forEach((d) => (d.open = true))")
    return window


def test_the_page_itself_is_no_wider_than_the_phone(phone):
    wide = phone.run("return [document.documentElement.scrollWidth, window.innerWidth]")
    assert wide == [390, 390]


def test_every_cell_of_every_table_is_within_the_screen(phone):
    ends = phone.run(
        "return [...document.querySelectorAll('td')].map((c) => { const r = document.createRange();"
        "r.selectNodeContents(c); const b = r.getBoundingClientRect(); return [b.left, b.right] })"
    )
    assert len(ends) > 200
    assert min(left for left, _ in ends) >= 0.0
    assert max(right for _, right in ends) <= 390.0


def test_a_chart_wider_than_the_screen_says_so(phone):
    told = phone.run(f"return {SWIPE}")
    assert len(told) >= 5
    for high, hidden in told:
        assert hidden > 20
        assert high > 12
    words = phone.run("return document.querySelector('.swipe').innerText")
    assert "swipe" in words


def test_a_shadow_stands_at_the_edge_that_hides_the_rest(phone):
    """Dark at the right before swiping and at the left after it, and not the other way."""
    box = ".wide:has(svg)"
    phone.run(f"document.querySelector('{box}').scrollIntoView({{block: 'center'}})")
    edges = []
    for end in (0, 1e4):
        phone.run(f"document.querySelector('{box}').scrollLeft = {end}")
        picture = np.asarray(Image.open(io.BytesIO(phone.picture(box))).convert("L")).astype(int)
        edges.append((np.median(picture[:, 1]), np.median(picture[:, -2])))
    (left, right), (left_after, right_after) = edges
    assert left - right > 40
    assert right_after - left_after > 40


def test_charts_can_be_read(phone):
    sizes = phone.run(
        "return [...document.querySelectorAll('figure svg')].flatMap((s) => {"
        "const k = s.getBoundingClientRect().width / s.viewBox.baseVal.width;"
        "return [...s.querySelectorAll('text')].map((t) => k * parseFloat("
        "getComputedStyle(t).fontSize)) })"
    )
    assert len(sizes) > 100
    assert min(sizes) > LETTERS_PX


def test_on_a_desk_nothing_is_hidden_and_no_swipe_is_asked_for(window):
    window.size(1280, 900)
    window.open(window.page)
    for high, hidden in window.run(f"return {SWIPE}"):
        assert hidden <= 1
        assert high == 0


def test_paper_holds_every_column_and_no_hint(phone):
    phone.size(695, 900, touch=True)  # what A4 leaves between its margins of 13 mm
    phone.devtools("Emulation.setEmulatedMedia", media="print")
    ends = phone.run(
        "return [...document.querySelectorAll('td')].map((c) => c.getBoundingClientRect().right)"
    )
    swipe = phone.run(f"return {SWIPE}")
    made = phone.devtools("Page.printToPDF", preferCSSPageSize=True)
    phone.devtools("Emulation.setEmulatedMedia", media="")
    assert max(ends) <= 695.0
    assert max(high for high, _ in swipe) == 0
    pages = len(re.findall(rb"/Type\s*/Page[^s]", base64.b64decode(made["data"])))
    assert 4 < pages < 40


def test_on_a_desk_no_table_hides_its_last_column(window):
    window.size(1280, 900)
    window.open(window.page)
    window.run("document.querySelectorAll('details').forEach((d) => (d.open = true))")
    hidden = window.run(
        "return [...document.querySelectorAll('.wide')].map((w) => [w.querySelector('caption')?"
        ".textContent, w.scrollWidth - w.clientWidth])"
    )
    assert len(hidden) > 5
    assert [name for name, px in hidden if px > 1] == []
