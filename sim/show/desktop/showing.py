"""Show a replay as asked: in a window, or as files."""

from collections.abc import Sequence
from pathlib import Path

from sim.show.desktop.movie import Watch, unwatched, write_gif, write_mp4, write_still
from sim.show.desktop.scene import Scene
from sim.show.desktop.window import Player
from sim.show.replay.track import Track

STILL_WIDE, MOVIE_WIDE = 1280, 768  # pixels
STEP = 16  # pixels; video is coded in blocks of this size


def open_window(tracks: Sequence[Track], view: str, scale: float | None = None) -> None:
    """Show tracks in a window until it is closed."""
    scene = Scene(tracks, window=True, view=view, scale=scale)
    player = Player(scene)
    player.attach()
    player.play_or_pause()
    scene.plotter.show(title="aftlimit replay")


def size_of(width: int) -> tuple[int, int]:
    """Return width and height [pixels], both in whole steps that a .mp4 can hold."""
    across = STEP * round(width / STEP)
    return across, STEP * round(0.625 * across / STEP)


def write_replay(
    tracks: Sequence[Track],
    view: str,
    scale: float | None = None,
    still: str | None = None,
    at: float | None = None,
    movie: str | None = None,
    width: int | None = None,
    watch: Watch = unwatched,
) -> list[Path]:
    """Write a still at a time [s], half-way if None, and a movie; return the paths written.

    ``width`` [pixels] is 1280 for a still and 768 for a movie if left out. A movie is drawn
    without smooth edges: its pictures take a sixth of the time of a still.
    """
    out = []
    if still is not None:
        scene = Scene(tracks, size=size_of(width or STILL_WIDE), view=view, scale=scale)
        out.append(write_still(scene, still, 0.5 * scene.end if at is None else at))
        scene.plotter.close()
    if movie is not None:
        size = size_of(width or MOVIE_WIDE)
        scene = Scene(tracks, size=size, view=view, scale=scale, smooth=False)
        write = write_mp4 if movie.lower().endswith(".mp4") else write_gif
        out.append(write(scene, movie, watch))
        scene.plotter.close()
    return out
