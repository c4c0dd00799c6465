"""The tracing page in a real browser: a drawn demo traced from disk, by mouse and by keys."""

import json
import re
import time

import pytest

from sim.cli import main
from sim.commands import trace as command
from sim.describe import data_folder, load_aeroplane
from sim.show.trace.page import trace_page
from tests.samples.chromium import CHROMIUM, DRIVER, MISSING, browser
from tests.samples.sheets import Sheet, area, mid_chord

pytestmark = pytest.mark.skipif(
    CHROMIUM is None or DRIVER is None,
    reason=f"{MISSING} not found: on Debian, apt-get install chromium chromium-driver",
)
NEAR = 0.02  # as the traced file is asked to agree
LOOK = "return aftlimitTrace.look(arguments[0], arguments[1], 2)"


@pytest.fixture(scope="module")
def window(tmp_path_factory):
    with browser(tmp_path_factory.mktemp("browser")) as opened:
        yield opened


def open_page(window, folder, view, turn_deg):
    sheet = Sheet("display_jet", view, turn_deg)
    picture = sheet.draw(folder / "sheet.png")
    page = folder / f"{view}.html"
    page.write_text(trace_page(picture, view, f"sheet_{view}_points.json", "aftlimit trace"))
    window.size(1200, 900, touch=True)
    window.complaints()
    window.addresses()
    window.open(page)
    assert window.wait_for(
        "return window.aftlimitTrace && document.querySelector('image').href.baseVal"
    )
    return sheet


def click_all(window, sheet):
    """Click a whole aeroplane, as the prompts ask for it; skip what it has not."""
    points = sheet.points()
    while window.run("return document.querySelector('[data-part=save]').disabled") or window.run(
        "return document.querySelector('[aria-current]').innerText.includes('can be')"
    ):
        key = window.run("return aftlimitTrace.step().key")
        wanted = points.get(key) or points["surfaces"].get(key)
        if not wanted:
            window.click("[data-part=skip]")
            continue
        for x, y in wanted:
            window.act([window.run(LOOK, x, y)])
        if f"{key}_mm" in points:
            window.press("[data-part=number]", f"{points[f'{key}_mm'] / 10.0:g}")
            window.run("document.querySelector('[data-part=unit]').value = 'cm'")
            window.click("[data-part=take]")
        if window.run("return aftlimitTrace.step().many"):
            window.click("[data-part=finish]")


def saved_by(window, folder):
    window.devtools("Browser.setDownloadBehavior", behavior="allow", downloadPath=str(folder))
    window.click("[data-part=save]")
    end = time.monotonic() + 10.0
    while not (found := list(folder.glob("*_points.json"))) and time.monotonic() < end:
        time.sleep(0.05)
    return found[0]


def start_file(folder):
    """Write a file with the demo's masses and a shape that is wrong throughout."""
    text = (data_folder("scenarios") / "aeroplanes" / "display_jet.toml").read_text()
    for key, by in (("panel_span_mm", 1.15), ("tip_chord_mm", 0.8), ("root_chord_mm", 1.1),
                    ("sweep_deg", 0.9), ("width_mm", 1.2), ("height_mm", 0.9)):  # fmt: skip
        text = re.sub(
            rf"\b{key} = ([\d.]+)", lambda m, k=key, b=by: f"{k} = {float(m[1]) * b:.1f}", text
        )
    path = folder / "own.toml"
    path.write_text(text)
    return path


def test_a_drawn_demo_clicked_from_both_views_agrees_within_two_per_cent(window, tmp_path, capsys):
    own = start_file(tmp_path)
    for view, turn in (("top", 97.0), ("side", 4.0)):
        folder = tmp_path / view
        folder.mkdir()
        click_all(window, open_page(window, folder, view, turn))
        points = saved_by(window, folder)
        assert main(["trace", "sheet.png", "--view", view, "--points", str(points), "--into",
                     str(own)]) == 0  # fmt: skip
        assert window.complaints() == []
        # chrome, chrome-untrusted: the browser's own first page, still loading
        asked = {x.split(":")[0].removesuffix("-untrusted") for x in window.addresses()}
        assert asked <= {"file", "data", "blob", "chrome"}
    assert "surfaces.wing.panel_span_mm: 661.2 -> 57" in capsys.readouterr().out
    true, made = load_aeroplane("display_jet"), load_aeroplane(own)
    for a, b in zip(true.surfaces, made.surfaces, strict=True):
        assert area(b) == pytest.approx(area(a), rel=NEAR), a.name
        arm = mid_chord(true.surfaces[0]) - mid_chord(a)
        assert mid_chord(true.surfaces[0]) - mid_chord(b) == pytest.approx(arm, rel=NEAR, abs=2.0)
    for key in ("width_mm", "height_mm"):
        told = [sum_of(x.bodies[0], key) for x in (true, made)]
        assert told[1] == pytest.approx(told[0], rel=NEAR)
    ends = [(x.bodies[0].stations[0].aft_mm, x.bodies[0].stations[-1].aft_mm) for x in (true, made)]
    assert ends[1] == pytest.approx(ends[0], rel=NEAR)


def sum_of(body, key):
    """Return a body's area in a view [mm²]."""
    pairs = zip(body.stations, body.stations[1:], strict=False)
    return sum(0.5 * (getattr(a, key) + getattr(b, key)) * (b.aft_mm - a.aft_mm) for a, b in pairs)


def test_keys_set_points_undo_skip_and_a_drag_corrects_one(window, tmp_path):
    open_page(window, tmp_path, "top", 0.0)
    view = "[data-part=view]"
    clicked = "return JSON.stringify(aftlimitTrace.clicked.known)"
    window.press(view, "right", "right", "\ue007")
    window.press(view, "left", "\ue007")
    (a, b) = json.loads(window.run(clicked))
    assert b[0] < a[0]
    assert b[1] == a[1]
    window.press(view, "\ue003")
    assert json.loads(window.run(clicked)) == [a]
    x, y = window.run("return aftlimitTrace.look(...arguments, 1)", *a)
    window.act([(x, y), (x + 20, y + 30)])
    ((moved_x, moved_y),) = json.loads(window.run(clicked))
    assert (moved_x - a[0], moved_y - a[1]) == pytest.approx((20.0, 30.0), abs=1.0)
    window.act([(x - 60, y), (x - 90, y)])
    assert json.loads(window.run(clicked)) == [[moved_x, moved_y]]  # that moved the picture
    prompt = window.run("return document.querySelector('[data-part=prompt]').innerText")
    assert prompt == "Click its other end: the other wing tip, say."
    assert window.complaints() == []


@pytest.mark.parametrize(("wide", "high"), [(1400, 900), (390, 844)])
def test_nothing_is_wider_than_the_window(window, tmp_path, wide, high):
    open_page(window, tmp_path, "top", 0.0)
    window.size(wide, high, touch=wide < 500)
    assert window.run("return document.documentElement.scrollWidth") <= wide
    (tmp_path / f"{wide}.png").write_bytes(window.picture())


def test_the_command_writes_the_page_and_says_what_to_do_next(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    Sheet("display_jet", "top", wide=60, high=60).draw(tmp_path / "jet.png")
    assert command.__doc__
    assert main(["trace", "jet.png", "--view", "top"]) == 0
    assert "--points jet_top_points.json --into" in capsys.readouterr().out
    page = (tmp_path / "jet_top.html").read_text()
    assert "http" not in page.replace("http://www.w3.org/2000/svg", "")
