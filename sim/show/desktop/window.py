"""The replay's window: playing, slider, keys."""

import time
from collections.abc import Callable

from sim.show.desktop.cameras import VIEWS
from sim.show.desktop.scene import FREE, Scene
from sim.show.drawing.canvas import INK

TICK_MS = 30
SPEEDS = (0.1, 0.25, 0.5, 1.0, 2.0)
LEFT, RIGHT, HIGH = 0.04, 0.9, 0.07  # where the slider lies, shares of the window
FOREVER = 2**31 - 1
KEYS_TOLD = (
    "space play, pause    left, right a tenth of a second    n next event    "
    "s slower, f faster    1 to 4 cameras, 0 free    m true size    q close"
)


class Player:
    """Plays a scene: time runs by the clock while it plays."""

    def __init__(self, scene: Scene, clock: Callable[[], float] = time.monotonic) -> None:
        """Play ``scene`` by ``clock`` [s]."""
        self.scene = scene
        self.clock = clock
        self.playing = False
        self.speed = 1.0
        self._last = clock()
        self._setting = False
        plotter = scene.plotter
        self.slider = plotter.add_slider_widget(
            self.slid, rng=(0.0, scene.end), value=0.0, color=INK,
            pointa=(LEFT, HIGH), pointb=(RIGHT, HIGH), interaction_event="always",
            slider_width=0.02, tube_width=0.004,
        )  # fmt: skip
        self.slider.GetRepresentation().ShowSliderLabelOff()  # the time is told above
        self._mark_events()
        plotter.add_text(KEYS_TOLD, position=(0.04, 0.01), viewport=True, font_size=8, color=INK)

    def _mark_events(self) -> None:
        """Write the events of the first flight along the slider."""
        for i, event in enumerate(self.scene.tracks[0].told.events):
            x = LEFT + (RIGHT - LEFT) * event.t_s / self.scene.end
            place = (x, HIGH + 0.022 + 0.022 * (i % 2))
            self.scene.plotter.add_text(
                f"| {event.name}", position=place, viewport=True, font_size=8, color=INK
            )

    @property
    def keys(self) -> dict[str, Callable[[], None]]:
        """What each key does."""
        views = {str(i): lambda view=view: self.see(view) for i, view in enumerate(VIEWS, 1)}
        return {
            "space": self.play_or_pause,
            "Left": lambda: self.go(self.scene.time - 0.1),
            "Right": lambda: self.go(self.scene.time + 0.1),
            "n": self.next_event,
            "s": lambda: self.change_speed(-1),
            "f": lambda: self.change_speed(1),
            "m": self.other_size,
            "0": lambda: self.see(FREE),
            "q": self.close,
            "Escape": self.close,
            **views,
        }

    def attach(self) -> None:
        """Listen to the keys and the clock; the library's own keys are switched off."""
        plotter = self.scene.plotter
        for key, done in self.keys.items():
            plotter.clear_events_for_key(key, raise_on_missing=False)
            plotter.add_key_event(key, done)
        plotter.iren.style.AddObserver("CharEvent", lambda *_: None)
        plotter.add_timer_event(FOREVER, TICK_MS, lambda _: self.tick())

    def play_or_pause(self) -> None:
        """Play, or stop; at the end, play again from the start."""
        self._last = self.clock()
        if not self.playing and self.scene.time >= self.scene.end:
            self.go(0.0)
        self.playing = not self.playing

    def tick(self) -> None:
        """Move on by the time that has passed."""
        now = self.clock()
        passed, self._last = now - self._last, now
        if not self.playing:
            return
        self.go(self.scene.time + self.speed * passed)
        self.playing = self.scene.time < self.scene.end

    def go(self, t: float) -> None:
        """Go to a time [s], the slider with it."""
        self.scene.move(t)
        self._setting = True
        self.slider.GetRepresentation().SetValue(self.scene.time)
        self._setting = False
        self.scene.plotter.render()

    def slid(self, t: float) -> None:
        """Follow the slider; a slider that was set by `go` is not followed."""
        if not self._setting:
            self.scene.move(t)
            self.scene.plotter.render()

    def see(self, view: str) -> None:
        """Look from elsewhere."""
        self.scene.view = view
        self.go(self.scene.time)

    def next_event(self) -> None:
        """Go to the next event of the first flight; after the last, to the start."""
        times = [e.t_s for e in self.scene.tracks[0].told.events]
        self.go(min((t for t in times if t > self.scene.time + 0.01), default=0.0))

    def change_speed(self, by: int) -> None:
        """Play slower or faster by some steps."""
        place = SPEEDS.index(self.speed) + by
        self.speed = SPEEDS[min(len(SPEEDS) - 1, max(0, place))]

    def other_size(self) -> None:
        """Draw the aeroplanes to true scale, or large again."""
        self.scene.to_scale(None if self.scene.asked == 1.0 else 1.0)
        self.scene.plotter.render()

    def close(self) -> None:
        """Close the window."""
        self.scene.plotter.iren.terminate_app()
