"""The replay on the desktop: a scene with one or two aeroplanes on their paths."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil, floor
from textwrap import wrap
from typing import Any

import numpy as np
import pyvista as pv

from sim.record.models.recording import MeshHinge, MeshPart
from sim.show.desktop.cameras import LEAST_LARGER, TOP, VIEWS, Look, larger_from, look_from
from sim.show.drawing.canvas import BLUE, INK, ORANGE, SHEET, WINE
from sim.show.replay.track import Track, part_matrix
from sim.units.quantities import HEIGHT, SPEED

FREE = "freely"
RIBBON_SHARE = 0.15  # of the span, half the ribbon's width
COLOURS = "cividis"
POLE_STEP_M = 20
POLE_GAP_M = 12.0
GRID_M = 20.0
LIGHT, GROUND, SKY = "#F4F4F2", "#DDE0D7", "#F7F9FB"
GRID = "#B9BEB0"
PAINT = (BLUE, ORANGE)  # of the first and the second aeroplane
PAINT_WORDS = ("blue", "orange")
MOVING = WINE
DARK_PARTS = ("inlet", "nozzle", "canopy", "spinner")
FONT, SMALL_FONT = 10, 8  # the small one in pictures narrower than
NARROW = 1000  # pixels
TITLE_WIDTH = 48


@dataclass
class _Model:
    """One aeroplane in the scene: its track, and for each part its actor and its hinge."""

    track: Track
    parts: list[tuple[pv.Actor, MeshHinge | None]] = field(default_factory=list)
    path: list[pv.Actor] = field(default_factory=list)
    drop: pv.PolyData = field(default_factory=pv.PolyData)
    shadow: pv.Actor | None = None


def new_plotter(window: bool, size: tuple[int, int], smooth: bool = True) -> Any:
    """Return an empty scene, in a window or off-screen."""
    plotter: Any = pv.Plotter
    plotter = plotter(off_screen=not window, window_size=list(size))
    plotter.set_background(LIGHT, top=SKY)
    if smooth:
        plotter.enable_anti_aliasing("msaa", multi_samples=4)
    else:
        plotter.disable_anti_aliasing()
    return plotter


def polydata(part: MeshPart) -> pv.PolyData:
    """Return a part of a mesh as a surface to draw."""
    points = np.array(part.vertices, float).reshape(-1, 3)
    corners = np.array(part.triangles, int).reshape(-1, 3)
    faces = np.column_stack([np.full(len(corners), 3), corners]).ravel()
    return pv.PolyData(points, faces)


def as_it_is(text: str) -> str:
    """Return a text as VTK must be told it: a bare $ would begin a formula."""
    return text.replace("$", r"\$")


class Scene:
    """The replay's scene; `show` moves it to a time."""

    def __init__(
        self,
        tracks: Sequence[Track],
        window: bool = False,
        size: tuple[int, int] = (1280, 800),
        view: str = VIEWS[0],
        scale: float | None = None,
        smooth: bool = True,
    ) -> None:
        """Build the scene of one or two tracks, in a window or off-screen.

        Parameters
        ----------
        scale : float, optional
            How many times as large as they are aeroplanes are drawn; as large as each view
            needs them to be seen if left out.
        smooth : bool
            Edges without steps, which takes twice the time where the processor draws.
        """
        self.tracks = list(tracks)
        self.end = max(track.end for track in tracks)
        self.time = 0.0
        self.view = view
        self.asked = scale
        self.scale = LEAST_LARGER if scale is None else scale
        self.plotter = new_plotter(window, size, smooth)
        reach = np.vstack([track.places for track in tracks])
        self.low, self.high = reach.min(axis=0), reach.max(axis=0)
        self._ground()
        self._poles()
        self.models = [self._model(i, track) for i, track in enumerate(self.tracks)]
        self._ribbons()
        self._event_flags()
        font = FONT if size[0] >= NARROW else SMALL_FONT
        self.text = self.plotter.add_text("", position="upper_left", font_size=font, color=INK)
        self.text.prop.background_color, self.text.prop.background_opacity = SHEET, 0.75
        self.move(0.0)

    # ------------------------------------------------------------------ what stands still
    def _ground(self) -> None:
        middle = 0.5 * (self.low + self.high)
        x, y = (GRID_M * round(c / GRID_M) for c in middle[:2])
        half = int(GRID_M * ceil(max(self.high[:2] - self.low[:2]) / 2.0 / GRID_M) + 80.0)
        plane = pv.Plane(center=(x, y, -0.1), direction=(0, 0, 1), i_size=4000, j_size=4000)
        self.plotter.add_mesh(plane, color=GROUND, lighting=False)
        steps = np.arange(-half, half + 1, GRID_M)
        ends = [((x + d, y - half, 0), (x + d, y + half, 0)) for d in steps]
        ends += [((x - half, y + d, 0), (x + half, y + d, 0)) for d in steps]
        lines = pv.line_segments_from_points(np.array(ends, float).reshape(-1, 3))
        self.plotter.add_mesh(lines, color=GRID, line_width=1, lighting=False)

    def _poles(self) -> None:
        """Put up height poles at the corners of the path, and the floor's frame between them."""
        floor_m = self.tracks[0].told.floor_m
        top = POLE_STEP_M * ceil(max(self.high[2], floor_m + 1.0) / POLE_STEP_M)
        (west, south), (east, north) = self.low[:2] - POLE_GAP_M, self.high[:2] + POLE_GAP_M
        corners = ((east, north), (east, south), (west, south), (west, north))
        for x, y in corners:
            for z in range(0, top, POLE_STEP_M):
                ends = np.array([(x, y, z), (x, y, z + POLE_STEP_M)], float)
                band = pv.lines_from_points(ends).tube(radius=0.3, n_sides=8)
                colour = INK if (z // POLE_STEP_M) % 2 else "#9A9C9E"
                self.plotter.add_mesh(band, color=colour, lighting=False)
        heights = range(POLE_STEP_M, top + 1, POLE_STEP_M)
        points = np.array([(x, y, z) for x, y in corners for z in heights], float)
        # clear of the pole, which would cover the first digit
        labels = [f"    {HEIGHT(z)}" for _ in corners for z in heights]
        self.heights_told = self._labels(points, labels, INK)
        frame = np.array([(*corners[i], floor_m) for i in (0, 1, 2, 3, 0)])
        self.plotter.add_mesh(pv.lines_from_points(frame), color=WINE, line_width=2, lighting=False)
        self._labels(0.5 * (frame[[2]] + frame[[3]]), [f"floor {HEIGHT(floor_m, 'g')}"], WINE)

    def _labels(self, points: np.ndarray, labels: list[str], colour: str) -> Any:
        return self.plotter.add_point_labels(
            points, [as_it_is(x) for x in labels], font_size=13, text_color=colour, shape=None,
            show_points=False, always_visible=True,
        )  # fmt: skip

    def _event_flags(self) -> None:
        for i, track in enumerate(self.tracks):
            events = track.told.events
            if not events:
                continue
            points = np.array([track.place(e.t_s) for e in events])
            balls = pv.PolyData(points)
            self.plotter.add_mesh(balls, color=INK, point_size=9, render_points_as_spheres=True)
            points[:, 2] += 1.5
            number = f"{i + 1}: " if len(self.tracks) > 1 else ""
            self._labels(points, [f"  {number}{e.name}" for e in events], INK)

    # ---------------------------------------------------------------------- what moves
    def _model(self, i: int, track: Track) -> _Model:
        model = _Model(track)
        for part in track.told.mesh.parts:
            hinged = part.hinge is not None
            colour = MOVING if hinged else PAINT[i]
            if part.name.startswith(DARK_PARTS):
                colour = "#3D4247"
            if part.kind == "fin" and not hinged:
                colour = WINE
            disc = part.name == "propeller disc"
            actor = self.plotter.add_mesh(
                polydata(part), color=INK if disc else colour, opacity=0.25 if disc else 1.0,
                smooth_shading=False, ambient=0.35, diffuse=0.7,
            )  # fmt: skip
            model.parts.append((actor, part.hinge))
        model.drop = pv.lines_from_points(np.zeros((2, 3)))
        self.plotter.add_mesh(model.drop, color=INK, line_width=1, lighting=False)
        disc_mesh = pv.Disc(center=(0, 0, 0.1), inner=0.0, outer=1.5, normal=(0, 0, 1), c_res=24)
        model.shadow = self.plotter.add_mesh(disc_mesh, color="#6E746A", lighting=False)
        return model

    def _ribbons(self) -> None:
        """Draw the paths as ribbons, coloured by angle of attack; again after another scale."""
        alphas = np.concatenate([track.alpha for track in self.tracks])
        low = 10 * floor(min(0.0, alphas.min()) / 10)
        high = max(30, 10 * ceil(alphas.max() / 10))
        tens = (high - low) // 10
        bar = {
            "title": "angle of attack, degrees", "color": INK, "vertical": False,
            "position_x": 0.64, "position_y": 0.88, "width": 0.33, "height": 0.1,
            "title_font_size": 15, "label_font_size": 14, "fmt": "%.0f",
            "n_labels": (tens if tens <= 6 else tens // 3 if tens % 3 == 0 else 1) + 1,
        }  # fmt: skip
        for i, model in enumerate(self.models):
            track = model.track
            span = track.told.mesh.span_m
            edges = track.ribbon(RIBBON_SHARE * span * min(self.scale, LEAST_LARGER))
            band = pv.StructuredGrid(*(edges[:, :, k][:, :, None] for k in range(3)))
            band["alpha"] = np.tile(track.alpha, (2, 1)).ravel(order="F")
            thread = pv.lines_from_points(track.places)
            thread["alpha"] = track.alpha
            for actor in model.path:
                self.plotter.remove_actor(actor, render=False)
            shared = {"scalars": "alpha", "cmap": COLOURS, "clim": (low, high), "lighting": False}
            model.path = [
                self.plotter.add_mesh(
                    band, **shared, opacity=0.9, show_scalar_bar=i == 0, scalar_bar_args=bar
                ),
                self.plotter.add_mesh(thread, **shared, line_width=3, show_scalar_bar=False),
            ]

    def move(self, t: float) -> None:
        """Move everything to a time [s]; nothing is drawn yet."""
        self.time = float(np.clip(t, 0.0, self.end))
        if self.asked is None and self.view != FREE:
            self.scale = larger_from(self.view, self.tracks, self.time, self.low, self.high)
        for model in self.models:
            track = model.track
            for actor, hinge in model.parts:
                actor.user_matrix = part_matrix(track, hinge, self.time, self.scale)
            place = track.place(self.time)
            model.drop.points = np.array([place, [place[0], place[1], 0.0]])
            assert model.shadow is not None
            model.shadow.position = (place[0], place[1], 0.0)
        self.text.set_text("upper_left", as_it_is(self.caption()))
        self.heights_told.SetVisibility(self.view != TOP)
        self.aim()

    def aim(self) -> None:
        """Point the camera as the view in use does; a free one stays where it is."""
        if self.view == FREE:
            return
        look = look_from(self.view, self.tracks, self.time, self.low, self.high, self.scale)
        self._point(look)

    def _point(self, look: Look) -> None:
        camera = self.plotter.camera
        camera.position = look.eye
        camera.focal_point = look.at
        camera.up = look.up
        camera.parallel_projection = look.half_height_m is not None
        if look.half_height_m is not None:
            camera.parallel_scale = look.half_height_m
        camera.view_angle = look.angle_deg
        self.plotter.renderer.reset_camera_clipping_range()

    def to_scale(self, scale: float | None) -> None:
        """Draw the aeroplanes this many times as large as they are; None: so that they are seen."""
        self.asked = scale
        self.scale = LEAST_LARGER if scale is None else scale
        self._ribbons()
        self.move(self.time)

    # ----------------------------------------------------------------------------- words
    def caption(self) -> str:
        """Return what is written over the scene at its time."""
        size = f"{self._size_words()}, squares of {HEIGHT(20.0)}"
        lines = [f"{self.time:.2f} s   seen {self.view}", size]
        for i, track in enumerate(self.tracks):
            lines += [
                "",
                *self._told_of(
                    track, "" if len(self.tracks) == 1 else f"{i + 1} ({PAINT_WORDS[i]}): "
                ),
            ]
        return "\n".join(lines)

    def _size_words(self) -> str:
        if self.scale == 1.0:
            return "aeroplane to true scale"
        return f"aeroplane drawn {self.scale:.0f} times as large"

    def _told_of(self, track: Track, number: str) -> list[str]:
        t, flight = self.time, track.told
        ended = "" if t <= track.end else " (ended)"
        event = track.event_at(t)
        height = track.value("up_m", t)
        below = track.places[0, 2] - height
        which = "below" if below > 0.0 else "above"
        return [
            *wrap(f"{number}{flight.title}{ended}", TITLE_WIDTH),
            f"height {HEIGHT(0.0 if abs(height) <= 0.5 else height)}, {HEIGHT(abs(below))} "
            f"{which} the start",
            f"angle of attack {track.value('alpha_deg', t):.0f}, "
            f"sideslip {track.value('beta_deg', t):.0f} degrees",
            f"airspeed {SPEED(track.value('speed_mps', t))}, "
            f"climb {SPEED(track.value('climb_mps', t), '+.0f')}",
            f"{track.phase_at(t)}{f'; {event}' if event else ''}",
            f"verdict: {flight.verdict}" if t >= track.end else "",
        ]
