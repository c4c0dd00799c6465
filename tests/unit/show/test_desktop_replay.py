"""The desktop replay: what it draws off-screen, and what it says where it cannot draw."""

import importlib.util
import json
from importlib import import_module

import numpy as np
import pytest

from sim.cli import main
from sim.describe import load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.record.files import write_record
from sim.record.models.recording import Recording
from sim.show.desktop import opengl
from sim.show.desktop.cameras import GROUND, VIEWS, look_from
from sim.show.replay.recording import recording
from sim.show.replay.track import Track, part_matrix, read_track
from tests.samples.records import valid

SIZE = (320, 200)


@pytest.fixture(scope="module")
def track(display_jet):
    flight = fly_one(display_jet, load_manoeuvre("spin_entry"), load_recovery("centre_sticks"))
    return Track(recording(flight, "a spin", 200.0, 40.0, None))


@pytest.fixture(scope="module")
def desktop():
    """Yield the drawing module; without OpenGL the test is skipped, and says why."""
    fault = opengl.fault_of_drawing()
    if fault:
        pytest.skip(fault)
    opengl.use_off_screen_drawing()
    return import_module("sim.show.desktop.scene")


@pytest.fixture
def scene(desktop, track):
    made = desktop.Scene([track], size=SIZE)
    yield made
    made.plotter.close()


def shot(scene, t):
    return import_module("sim.show.desktop.movie").picture(scene, t)


# ----------------------------------------------------------------- without any drawing
def test_the_nose_points_along_the_flight_at_the_start(track):
    nose = part_matrix(track, None, 0.0, 1.0)[:3, 0]
    way = track.place(0.3) - track.place(0.0)
    assert nose @ way / np.linalg.norm(way) > 0.95
    up = -part_matrix(track, None, 0.0, 4.0)[:3, 2]
    assert up[2] == pytest.approx(4.0, abs=0.1)


def test_the_balance_point_stays_on_the_path(track):
    told = track.told
    mesh = told.mesh.model_copy(update={"origin_aft_mm": 0.0})
    at_datum = told.model_copy(update={"mesh": mesh})
    shifted = part_matrix(Track(at_datum), None, 2.0, 1.0) @ np.array(
        [-1e-3 * told.balance_aft_mm, 0.0, 0.0, 1.0]
    )
    np.testing.assert_allclose(shifted[:3], track.place(2.0), atol=1e-9)


def moving(track, surfaces):
    """Return a track whose parts stand at other angles."""
    told = track.told.content()
    told["columns"]["surfaces"] = surfaces
    return Track(Recording.model_validate(told))


def begun(track, rows):
    """Return a track of the first rows only."""
    told = track.told.content()
    surfaces = told["columns"].pop("surfaces")
    told["columns"] = {k: v[:rows] for k, v in told["columns"].items()}
    told["columns"]["surfaces"] = {k: v[:rows] for k, v in surfaces.items()}
    return Track(Recording.model_validate(told))


def test_a_positive_tail_angle_lowers_its_trailing_edge(track):
    tail = next(p for p in track.told.mesh.parts if p.name == "tail right")
    points = np.array(tail.vertices).reshape(-1, 3)
    rear = np.append(points[points[:, 0].argmin()], 1.0)
    rows = len(track.times)
    heights = []
    for angle in (0, 20):
        turned = part_matrix(moving(track, {"tail_right": [angle] * rows}), tail.hinge, 0.0, 1.0)
        heights.append((turned @ rear)[2])
    assert heights[1] < heights[0] - 0.02


@pytest.mark.parametrize("view", VIEWS)
def test_every_camera_has_the_aeroplane_before_it(track, view):
    low, high = track.places.min(axis=0), track.places.max(axis=0)
    for t in np.linspace(0.0, track.end, 12):
        look = look_from(view, [track], t, low, high, 4.0)
        ahead = look.at - look.eye
        ahead /= np.linalg.norm(ahead)
        way = track.place(t) - look.eye
        if look.half_height_m is None:
            off = np.degrees(np.arccos(min(1.0, ahead @ way / np.linalg.norm(way))))
            assert off < 0.5 * look.angle_deg
        else:
            across = way - (way @ ahead) * ahead
            assert way @ ahead > 0.0
            assert abs(across @ look.up) < look.half_height_m
    assert look_from(GROUND, [track], 0.0, low, high, 4.0).eye[2] < 2.0


def test_events_and_phases_are_told_when_due(track):
    event = track.told.events[0]
    assert track.event_at(event.t_s - 0.1) == ""
    assert track.event_at(event.t_s) == event.name
    assert track.phase_at(0.0) == track.told.phases[0].name


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("not json", "is not a recording"),
        ("{}", "must be a recording with schema"),
        ('{"schema": "aftlimit.recording/2", "columns": {}}', "lacks the columns t_s"),
    ],
)
def test_a_file_that_is_no_recording_is_refused_in_one_line(content, words, tmp_path, capsys):
    path = tmp_path / "other.json"
    path.write_text(content)
    assert main(["replay", str(path)]) == 2
    message = capsys.readouterr().err
    assert str(path) in message
    assert words in message
    assert message.count("\n") == 1


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"entry_m": "high"}, "entry_m: must be a number; got 'high'"),
        ({"verdict": "recoverd"}, "verdict: must be 'held' or 'recovered' or 'lost' or"),
        ({"hight": 3.0}, "hight: is no key of this table"),
    ],
)
def test_a_recording_with_a_wrong_key_is_refused_by_its_name(
    change, words, track, tmp_path, capsys
):
    path = tmp_path / "other.json"
    path.write_text(json.dumps({**track.told.content(), **change}))
    assert main(["replay", str(path)]) == 2
    message = capsys.readouterr().err
    assert f"{path}: {words}" in message
    assert message.count("\n") == 1


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["nowhere.json"], "nowhere.json: is no file; name a recording, or an aeroplane and a"),
        (["a.json", "--still", "a.jpg"], "--still a.jpg: a still ends in .png"),
        (["a.json", "--movie", "a.avi"], "--movie a.avi: a movie ends in .gif or .mp4"),
    ],
)
def test_wrong_arguments_are_refused_in_one_line(arguments, words, capsys):
    assert main(["replay", *arguments]) == 2
    message = capsys.readouterr().err
    assert words in message
    assert message.count("\n") == 1


def test_mp4_without_an_encoder_names_what_to_install(monkeypatch):
    monkeypatch.setattr(importlib.util, "find_spec", lambda _: None)
    with pytest.raises(ValueError, match="pip install imageio-ffmpeg"):
        opengl.check_outputs(None, "a.mp4")


def without_drawing(monkeypatch, probe):
    monkeypatch.setattr(opengl, "PROBE", probe)
    monkeypatch.setattr(opengl, "fault_of_drawing", opengl.fault_of_drawing.__wrapped__)


@pytest.mark.parametrize(
    ("platform", "words"),
    [("linux", "libegl1"), ("win32", "driver for Windows"), ("darwin", "macOS")],
)
def test_a_crash_of_the_library_becomes_one_line(
    platform, words, monkeypatch, track, tmp_path, capsys
):
    path = write_record(track.told, tmp_path / "spin.json")
    without_drawing(monkeypatch, "import os; os.abort()")
    monkeypatch.setattr(opengl.sys, "platform", platform)
    monkeypatch.setattr(importlib.util, "find_spec", lambda _: object())
    assert main(["replay", str(path), "--still", str(tmp_path / "s.png")]) == 2
    message = capsys.readouterr().err
    assert words in message
    assert message.count("\n") == 1
    assert not (tmp_path / "s.png").exists()


def test_without_the_library_the_message_says_how_to_get_it(monkeypatch, track, tmp_path, capsys):
    path = write_record(track.told, tmp_path / "spin.json")
    without_drawing(monkeypatch, "")
    monkeypatch.setattr(importlib.util, "find_spec", lambda _: None)
    assert main(["replay", str(path)]) == 2
    assert "pip install pyvista" in capsys.readouterr().err


def test_without_a_display_the_message_names_still_and_movie(monkeypatch, track, tmp_path, capsys):
    path = write_record(track.told, tmp_path / "spin.json")
    monkeypatch.setattr(opengl, "fault_of_drawing", lambda: "")
    monkeypatch.setattr(opengl.sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    assert main(["replay", str(path)]) == 2
    assert "--still FILE.png or --movie FILE.gif" in capsys.readouterr().err


def test_a_flight_flown_on_the_spot_is_written_without_drawing(tmp_path, capsys):
    path = tmp_path / "delta.json"
    code = main(["replay", "twin_delta", "high_alpha_pull_up", "--side", "left",
                 "--draw", "3", "--json", str(path)])  # fmt: skip
    told = valid(path)
    assert (code, capsys.readouterr().out.strip()) == (0, str(path))
    assert (told["aeroplane"], told["side"], told["draw"]) == ("twin_delta", "left", 3)
    assert read_track(path).end > 3.0


# ------------------------------------------------------------------------ with OpenGL
@pytest.mark.gl
def test_the_pictures_change_with_time_camera_and_size(scene):
    first = shot(scene, 2.0)
    assert first.shape == (SIZE[1], SIZE[0], 3)
    assert np.any(shot(scene, 6.0) != first)
    seen = [first]
    for view in VIEWS[1:]:
        scene.view = view
        seen.append(shot(scene, 2.0))
    for i, one in enumerate(seen):
        assert all(np.mean(np.any(one != other, axis=2)) > 0.02 for other in seen[:i])
    scene.view = VIEWS[3]
    large = shot(scene, 5.0)
    scene.to_scale(1.0)
    assert np.any(shot(scene, 5.0) != large)


@pytest.mark.gl
def test_moving_surfaces_are_seen_to_move(desktop, track):
    rows = len(track.times)
    shots = []
    for angle in (0, 25):
        turned = moving(track, {name: [angle] * rows for name in track.surfaces})
        scene = desktop.Scene([turned], size=SIZE, view=VIEWS[1])
        shots.append(shot(scene, 1.0))
        scene.plotter.close()
    assert np.any(shots[0] != shots[1])


@pytest.mark.gl
@pytest.mark.parametrize("view", VIEWS)
def test_aeroplane_is_seen_from_everywhere_at_every_time(desktop, track, view):
    """At least a tenth of the picture's height long, and 0.1 % of its pixels: judgement.

    Always drawn four times as large it was 0.8 % long from the side and 0.002 % of the pixels,
    3.0 % and 0.002 % from above, 3.8 % and 0.018 % from the ground.
    """
    scene = desktop.Scene([track], size=SIZE, view=view, smooth=False)
    scene.text.SetVisibility(False)
    for t in np.linspace(0.0, track.end, 8):
        with_it = shot(scene, t).astype(int)
        for actor, _ in scene.models[0].parts:
            actor.SetVisibility(False)
        without = shot(scene, t).astype(int)
        for actor, _ in scene.models[0].parts:
            actor.SetVisibility(True)
        seen = np.abs(with_it - without).max(axis=2) > 30
        rows, columns = np.nonzero(seen)
        assert seen.mean() > 0.001, t
        assert max(np.ptp(rows), np.ptp(columns)) > 0.10 * SIZE[1], t
    scene.plotter.close()


@pytest.mark.gl
def test_a_movie_is_drawn_small_and_counted(desktop, track, tmp_path, capsys):
    """768 x 480 without smoothing: measured 75 ms a picture against 470 at 1280 x 800."""
    short = begun(track, 12)
    told = []
    showing = import_module("sim.show.desktop.showing")
    (path,) = showing.write_replay(
        [short], VIEWS[0], movie=str(tmp_path / "short.gif"), watch=lambda *x: told.append(x)
    )
    with import_module("PIL.Image").open(path) as image:
        assert image.size == (768, 480)
    count = int(short.end * import_module("sim.show.desktop.movie").GIF_HZ) + 1
    assert told == [(i + 1, count) for i in range(count)]
    assert all(side % 16 == 0 for width in (320, 500, 1280) for side in showing.size_of(width))


@pytest.mark.gl
def test_two_flights_lie_over_each_other(desktop, track, display_jet):
    scripts = load_manoeuvre("spin_entry"), load_recovery("centre_sticks")
    flight = fly_one(display_jet, *scripts, -1.0)
    other = Track(recording(flight, "to the left", 200.0, 40.0, None))
    both = desktop.Scene([track, other], size=SIZE)
    assert "1 (blue): a spin" in both.caption()
    assert "2 (orange): to the left" in both.caption()
    alone = desktop.Scene([track], size=SIZE)
    assert np.any(shot(both, 6.0) != shot(alone, 6.0))
    both.plotter.close()
    alone.plotter.close()


@pytest.mark.gl
def test_the_player_plays_pauses_and_obeys_its_keys(scene):
    now = [0.0]
    player = import_module("sim.show.desktop.window").Player(scene, clock=lambda: now[0])
    player.attach()
    scene.plotter.render()
    scene.plotter.iren.initialize()  # as a window does; before it keys are not heard
    keyboard = scene.plotter.iren.interactor

    def press(key):
        keyboard.SetKeySym(key)
        keyboard.KeyPressEvent()
        keyboard.CharEvent()

    press("space")
    now[0] = 2.0
    player.tick()
    assert scene.time == pytest.approx(2.0)
    assert player.slider.GetRepresentation().GetValue() == pytest.approx(2.0)
    press("space")
    now[0] = 4.0
    player.tick()
    assert scene.time == pytest.approx(2.0)
    press("3")
    assert scene.view == VIEWS[2]
    assert not scene.plotter.render_window.GetStereoRender()
    press("n")
    events = [e.t_s for e in scene.tracks[0].told.events]
    assert scene.time == pytest.approx(min(t for t in events if t > 2.0))
    player.slid(1.0)
    assert scene.time == pytest.approx(1.0)
    press("m")
    assert scene.scale == 1.0
    press("space")
    now[0] = 1e3
    player.tick()
    assert scene.time == pytest.approx(scene.end)
    assert not player.playing


@pytest.mark.gl
def test_the_command_writes_a_still(desktop, track, tmp_path, capsys):
    path = write_record(track.told, tmp_path / "spin.json")
    still = tmp_path / "spin.png"
    code = main(["replay", str(path), "--with", str(path), "--still", str(still), "--at", "5",
                 "--camera", "side", "--true-size"])  # fmt: skip
    assert (code, capsys.readouterr().out.strip()) == (0, str(still))
    with import_module("PIL.Image").open(still) as image:
        assert image.size == (1280, 800)


@pytest.mark.gl
def test_a_movie_has_its_pictures_and_its_length(desktop, track, tmp_path):
    movie = import_module("sim.show.desktop.movie")
    rows = int(np.searchsorted(track.times, 1.0)) + 1
    short = begun(track, rows)
    scene = desktop.Scene([short], size=SIZE)
    path = movie.write_gif(scene, tmp_path / "short.gif")
    scene.plotter.close()
    with import_module("PIL.Image").open(path) as image:
        assert image.n_frames >= int(short.end * movie.GIF_HZ)
        assert len(image.getcolors()) <= movie.GIF_COLOURS
        total = 0
        for i in range(image.n_frames):
            image.seek(i)
            total += image.info["duration"]
    assert total == pytest.approx(1000.0 * (short.end + movie.LAST_S), abs=170.0)


@pytest.mark.gl
def test_an_mp4_is_written_whole(desktop, track, tmp_path):
    encoder = pytest.importorskip("imageio_ffmpeg", reason="no encoder for .mp4")
    scene = desktop.Scene([begun(track, 12)], size=(320, 240))
    movie = import_module("sim.show.desktop.movie")
    path = movie.write_mp4(scene, tmp_path / "short.mp4")
    scene.plotter.close()
    frames, seconds = encoder.count_frames_and_secs(str(path))
    assert frames == int(scene.end * movie.MP4_HZ) + 1 + int(movie.LAST_S * movie.MP4_HZ)
    assert seconds == pytest.approx(frames / movie.MP4_HZ, abs=0.1)
    assert [x.name for x in tmp_path.iterdir()] == ["short.mp4"]
