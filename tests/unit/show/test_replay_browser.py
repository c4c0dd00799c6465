"""The viewer in a real browser: from disk, by mouse, keys and fingers, without complaint."""

import io
from itertools import product

import numpy as np
import pytest
from PIL import Image
from scipy.spatial.transform import Rotation

from sim.show.replay.page import FOLDER, packed
from tests.samples.chromium import CHROMIUM, DRIVER, MISSING, browser
from tests.samples.flown import page_of, recordings

pytestmark = pytest.mark.skipif(
    CHROMIUM is None or DRIVER is None,
    reason=f"{MISSING} not found: on Debian, apt-get install chromium chromium-driver",
)
WORLD = "[data-part=view]"
DESK = 960, 675  # px; a larger window takes the software renderer as much longer
STATE = "return aftlimitReplay.state()"
# told once by a browser that has no graphics card, when it first takes over what WebGL has drawn
OWN_READING = "Performance, GL_CLOSE_PATH_NV, High): GPU stall due to ReadPixels"


@pytest.fixture(scope="module")
def flights():
    return recordings()


@pytest.fixture(scope="module")
def page_path(flights, tmp_path_factory):
    path = tmp_path_factory.mktemp("replay") / "flights.html"
    path.write_text(page_of(flights), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def window(tmp_path_factory):
    with browser(tmp_path_factory.mktemp("browser")) as opened:
        yield opened


@pytest.fixture
def viewer(window, page_path):
    """Return a window with the page freshly opened; what it says in the console fails a test."""
    window.size(*DESK)
    window.complaints()
    window.addresses()
    window.open(page_path)
    yield window
    assert [said for said in window.complaints() if OWN_READING not in said] == []


def state(window):
    return window.run(STATE)


def seek(window, seconds):
    """Go to a time and wait until it is on the screen."""
    window.run("aftlimitReplay.seek(arguments[0])", seconds)
    settle(window)


def settle(window):
    window.ask(
        "POST", "/execute/async",
        {
            "script": "requestAnimationFrame(() => requestAnimationFrame(arguments[0]))",
            "args": [],
        },
    )  # fmt: skip


def pixels(window, selector=WORLD):
    return np.asarray(Image.open(io.BytesIO(window.picture(selector))).convert("RGB")).astype(int)


def differing(a, b):
    """Return the share of pixels that differ clearly."""
    return float((np.abs(a - b).max(axis=2) > 24).mean())


def paint_green(window):
    """Give the aeroplane a colour that nothing else has; the change of theme makes it taken."""
    names = ["first", "moving", "under"]
    script = (
        "for (const name of arguments[0])"
        "document.querySelector('.replay').style.setProperty(`--replay-${name}`, '#00ff00')"
    )
    window.run(script, names)
    window.size(*DESK, dark=True)
    settle(window)
    window.size(*DESK)
    settle(window)


def share_of_model(picture):
    """Return the share of green pixels, and the longer side of what is green over the picture's."""
    red, green, blue = np.moveaxis(picture, 2, 0)
    found = green > 60 + np.maximum(red, blue)
    rows, columns = np.nonzero(found)
    assert len(rows) > 10
    return found.mean(), max(np.ptp(rows), np.ptp(columns)) / min(picture.shape[:2])


@pytest.mark.parametrize("wide", [DESK[0], 390])
def test_aeroplane_is_seen_by_every_camera_at_every_time(viewer, wide):
    """At least a tenth of the picture long and 0.15 % of its pixels.

    At begin, middle and end of each flight, of one on a narrow screen. What is seen at a
    glance on a phone: judgement. Drawn eight times as large: 3 to 6 % and 0.02 to 0.04 %.
    """
    paint_green(viewer)
    viewer.size(wide, DESK[1], touch=wide < 600)
    for i in range(3 if wide > 600 else 1):
        viewer.run("aftlimitReplay.choose(arguments[0])", i)
        times = np.linspace(0.0, state(viewer)["end_s"], 3)
        for camera, seconds in product(("pilot", "chase", "top", "side"), times):
            viewer.run("aftlimitReplay.look(arguments[0])", camera)
            seek(viewer, seconds)
            share, length = share_of_model(pixels(viewer))
            assert length > 0.10, (camera, i, seconds)
            assert share > 0.0015, (camera, i, seconds)


def test_says_how_much_larger_it_is_drawn(viewer):
    for camera in ("pilot", "chase", "top", "side"):
        viewer.run("aftlimitReplay.look(arguments[0])", camera)
        settle(viewer)
        told = viewer.run("return document.querySelector('[data-part=larger]').textContent")
        assert told == f"{state(viewer)['scale']:.0f}"
        assert int(told) >= 4


def middle_of_green(picture):
    """Return the middle (x, y) of the green pixels, as shares."""
    red, green, blue = np.moveaxis(picture, 2, 0)
    rows, columns = np.nonzero(green > 60 + np.maximum(red, blue))
    assert len(rows) > 10
    return columns.mean() / picture.shape[1], rows.mean() / picture.shape[0]


def test_opens_from_disk_and_asks_for_nothing_else(viewer, page_path):
    told = state(viewer)
    assert told["drawn"]
    assert not told["playing"]
    assert told["time_s"] == 0
    assert told["flights"] == 3
    asked = {
        x for x in viewer.addresses() if not x.startswith(("chrome:", "chrome-untrusted:", "data:"))
    }
    assert asked == {page_path.resolve().as_uri()}


def test_stands_where_the_recording_says(viewer, flights):
    columns = flights[0].content()["columns"]
    for i in (0, 57, len(columns["t_s"]) - 1):
        viewer.run("aftlimitReplay.seek(arguments[0])", columns["t_s"][i])
        now = state(viewer)["now"][0]
        wanted = [columns["north_m"][i], columns["east_m"][i], -columns["up_m"][i]]
        np.testing.assert_allclose(now["position_m"], wanted, atol=0.02)
        turn = Rotation.from_quat(now["turn"], scalar_first=True)
        q = Rotation.from_quat([columns[f"q{k}"][i] for k in range(4)], scalar_first=True)
        assert np.degrees((turn.inv() * q).magnitude()) < 0.3
        for name, values in columns["surfaces"].items():
            assert now["surfaces_deg"][name] == pytest.approx(values[i], abs=0.15)


def test_slider_moves_the_aeroplane(viewer):
    settle(viewer)
    before, picture = state(viewer), pixels(viewer)
    viewer.press("[data-part=slider]", "page down", "page down", "page down", "right")
    settle(viewer)
    after = state(viewer)
    assert after["time_s"] == pytest.approx(3.1)
    assert not np.allclose(before["now"][0]["position_m"], after["now"][0]["position_m"], atol=1.0)
    assert differing(picture, pixels(viewer)) > 0.02
    viewer.click("[data-part=slider]")  # its middle
    assert state(viewer)["time_s"] == pytest.approx(after["end_s"] / 2, rel=0.03)


def test_falls_in_the_picture_as_in_the_flight(viewer):
    paint_green(viewer)
    viewer.run("aftlimitReplay.look('side')")
    places = []
    for seconds in (4.0, 7.0, 9.0):
        seek(viewer, seconds)
        position = state(viewer)["now"][0]["position_m"]
        places.append((middle_of_green(pixels(viewer))[1], position))
    heights = [-position[2] for _, position in places]
    assert heights[0] > heights[1] > heights[2]
    assert places[0][0] < places[1][0] < places[2][0]


def test_stays_in_the_middle_when_followed(viewer):
    paint_green(viewer)
    for seconds in (1.0, 6.0):
        seek(viewer, seconds)
        across, down = middle_of_green(pixels(viewer))
        assert across == pytest.approx(0.5, abs=0.08)
        assert down == pytest.approx(0.5, abs=0.12)


def test_plays_pauses_and_ends(viewer):
    viewer.press(WORLD, "space")
    assert state(viewer)["playing"]
    assert viewer.wait_for("return aftlimitReplay.state().time_s > 0.3")
    viewer.press(WORLD, "space")
    stopped = state(viewer)
    assert not stopped["playing"]
    settle(viewer)
    assert state(viewer)["time_s"] == stopped["time_s"]
    viewer.press(WORLD, "+")
    assert state(viewer)["speed"] == 2
    viewer.press(WORLD, "-", "-", "-", "-")
    assert state(viewer)["speed"] == 0.25
    viewer.run("aftlimitReplay.seek(aftlimitReplay.state().end_s - 0.02)")
    viewer.click("[data-part=play]")
    assert viewer.wait_for("return !aftlimitReplay.state().playing")
    told = state(viewer)
    assert told["time_s"] == told["end_s"]


def test_keys_choose_where_to_look_from(viewer):
    seek(viewer, 6.0)
    seen = []
    for key, camera in (("1", "pilot"), ("2", "chase"), ("3", "top"), ("4", "side")):
        viewer.press(WORLD, key)
        settle(viewer)
        assert state(viewer)["camera"] == camera
        seen.append(pixels(viewer))
    for i in range(4):
        for k in range(i):
            assert differing(seen[i], seen[k]) > 0.05


def test_true_size_draws_it_smaller(viewer):
    seek(viewer, 6.0)
    viewer.press(WORLD, "4")
    settle(viewer)
    large = pixels(viewer)
    viewer.click("[data-part=true]")
    settle(viewer)
    assert state(viewer)["scale"] == 1
    assert differing(large, pixels(viewer)) > 0.0005


def test_second_flight_over_or_beside_the_first(viewer, flights):
    viewer.run(
        "const list = document.querySelector('[data-part=second]'); list.value = '1';"
        "list.dispatchEvent(new Event('change'));"
    )
    seek(viewer, 7.0)
    told = state(viewer)
    assert (told["first"], told["second"]) == (0, 1)
    assert told["end_s"] == pytest.approx(max(f.columns.t_s[-1] for f in flights[:2]))
    assert told["now"][0]["position_m"] != told["now"][1]["position_m"]
    over = pixels(viewer)
    viewer.click("[data-part=split]")
    settle(viewer)
    assert differing(over, pixels(viewer)) > 0.05
    groups = viewer.run(
        "return [...document.querySelectorAll('[data-part=second] optgroup')]"
        ".map((g) => [g.label, g.children.length])"
    )
    assert groups == [["same entry", 1], ["other entries", 1]]
    viewer.run("aftlimitReplay.choose(2)")
    settle(viewer)
    assert state(viewer)["second"] is None


def test_events_stand_under_the_slider_by_their_words(viewer, flights):
    for event in flights[0].events:
        viewer.run(
            "[...document.querySelectorAll('.replay-band button')]"
            ".find((b) => b.textContent === arguments[0]).click()",
            event.name,
        )
        assert state(viewer)["time_s"] == pytest.approx(event.t_s, abs=0.006)


def test_says_in_words_what_is_seen(viewer, flights):
    at = next(e.t_s for e in flights[0].events if e.name == "departure")
    script = "return document.querySelector('[data-part=spoken]').textContent.includes('height')"
    assert not viewer.run(script)
    seek(viewer, at + 0.1)
    assert viewer.wait_for(script)
    words = viewer.run("return document.querySelector('[data-part=spoken]').textContent")
    height = state(viewer)["now"][0]["position_m"][2] * -1.0
    assert f"height {height:.0f} m" in words
    assert "last: departure" in words
    assert "beyond the stall" in words
    sticks = viewer.run("return document.querySelector('[data-part=sticks]').textContent")
    assert "elevator 100 % aft" in sticks


def test_fingers_turn_the_view_and_bring_it_nearer(viewer):
    viewer.run("document.querySelector('[data-part=view]').scrollIntoView()")
    box = viewer.run(
        "const r = document.querySelector('[data-part=view]').getBoundingClientRect();"
        "return [r.left + r.width / 2, r.top + r.height / 2]"
    )
    x, y = box
    viewer.act([(x, y), (x + 60, y)])
    told = state(viewer)
    assert told["round"] > 0.2
    viewer.act([(x - 20, y), (x - 100, y)], [(x + 20, y), (x + 100, y)])
    assert state(viewer)["zoom"] > 1.5


def test_fits_a_phone(viewer):
    viewer.size(390, 844, touch=True)
    settle(viewer)
    wide = viewer.run("return [document.documentElement.scrollWidth, window.innerWidth]")
    assert wide[0] <= wide[1]
    assert state(viewer)["drawn"]


def test_dark_page_has_a_dark_sky(viewer):
    settle(viewer)
    light = pixels(viewer)[5, 5].mean()
    viewer.size(*DESK, dark=True)
    settle(viewer)
    assert pixels(viewer)[5, 5].mean() < 70 < 180 < light


def test_paper_shows_the_table(viewer):
    viewer.devtools("Emulation.setEmulatedMedia", media="print")
    shown = viewer.run(
        "return ['.replay-live', '.replay-still']"
        ".map((x) => document.querySelector(x).offsetHeight > 0)"
    )
    viewer.devtools("Emulation.setEmulatedMedia", media="")
    assert shown == [False, True]


def test_without_webgl_curves_sticks_and_words_work(page_path, tmp_path):
    with browser(tmp_path, "--disable-3d-apis") as window:
        window.size(*DESK)
        window.open(page_path)
        told = state(window)
        assert not told["drawn"]
        assert "No WebGL2" in window.run(
            "return document.querySelector('[data-part=missing]').innerText"
        )
        cursor = "return document.querySelector('.cursor').getAttribute('d')"
        before = window.run(cursor)
        window.press("[data-part=slider]", "page down")
        assert state(window)["time_s"] == pytest.approx(1.0)
        settle(window)
        assert window.run(cursor) != before
        assert window.run("return document.querySelector('.dot').getAttribute('cx')")


# ------------------------------------------------- the script's mathematics against scipy


def run_files(window, names, script, *values):
    text = "\n".join((FOLDER / name).read_text(encoding="utf-8") for name in names)
    return window.run(f"{text}\n{script}", *values)


def test_attitudes_agree_with_scipy(window):
    rng = np.random.default_rng(3)
    for turn in Rotation.random(20, rng=rng):
        q = turn.as_quat(scalar_first=True).tolist()
        axes = run_files(window, ["algebra.js"], "return axesOf(arguments[0])", q)
        np.testing.assert_allclose(np.transpose(axes), turn.as_matrix(), atol=1e-9)
        point, axis, angle = rng.normal(size=3), rng.normal(size=3), rng.uniform(-1.0, 1.0)
        matrix = run_files(
            window, ["algebra.js"], "return Array.from(hinged(...arguments))",
            point.tolist(), axis.tolist(), angle,
        )  # fmt: skip
        matrix = np.reshape(matrix, (4, 4)).T
        other = rng.normal(size=3)
        spun = Rotation.from_rotvec(angle * axis / np.linalg.norm(axis))
        wanted = point + spun.apply(other - point)
        np.testing.assert_allclose((matrix @ [*other, 1.0])[:3], wanted, atol=1e-5)


@pytest.mark.parametrize("degrees", [10.0, 170.0, 270.0, 350.0])
def test_turns_go_the_way_they_were_flown(window, degrees):
    """More than half a turn between two rows: the sign of the quaternion tells the way."""
    half = np.radians(degrees) / 2.0
    ends = [1.0, 0.0, 0.0, 0.0], [np.cos(half), 0.0, 0.0, np.sin(half)]
    middle = run_files(window, ["algebra.js"], "return turnBetween(...arguments)", *ends, 0.5)
    np.testing.assert_allclose(middle, [np.cos(half / 2), 0.0, 0.0, np.sin(half / 2)], atol=1e-9)


def test_east_is_right_and_up_is_up_when_looking_north(window):
    script = (
        "const view = looking([0, 0, 0], [1, 0, 0], [0, 0, -1]);"
        "const m = product(perspective(1, 1.5, 0.5, 100), view);"
        "return [landed(m, [10, 2, 0]), landed(m, [10, 0, -2]), landed(m, [-10, 0, 0])]"
    )
    east, up, behind = run_files(window, ["algebra.js"], script)
    scale = 1.0 / np.tan(0.5)
    assert east == pytest.approx([0.5 + 0.5 * scale / 1.5 * 0.2, 0.5])
    assert up == pytest.approx([0.5, 0.5 - 0.5 * scale * 0.2])
    assert behind is None


def test_columns_come_out_as_they_went_in(window):
    values = np.linspace(-3.0, 8.0, 333) ** 2
    for size in (1, 2):
        column = packed(values, size)
        back = run_files(
            window, ["algebra.js", "flight.js"], "return Array.from(unpacked(arguments[0]))", column
        )
        np.testing.assert_allclose(back, values, atol=0.51 * column["step"])
