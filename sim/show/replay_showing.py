"""Show a replay as asked: in a window, or as files."""

from collections.abc import Sequence
from pathlib import Path

from sim.show.desktop import Scene
from sim.show.replay_movie import write_gif, write_mp4, write_still
from sim.show.replay_track import Track
from sim.show.replay_window import Player


def open_window(tracks: Sequence[Track], view: str, scale: float | None = None) -> None:
    """Show tracks in a window until it is closed."""
    scene = Scene(tracks, window=True, view=view, scale=scale)
    player = Player(scene)
    player.attach()
    player.play_or_pause()
    scene.plotter.show(title="aftlimit replay")


def write_replay(
    tracks: Sequence[Track],
    view: str,
    scale: float | None = None,
    still: str | None = None,
    at: float | None = None,
    movie: str | None = None,
) -> list[Path]:
    """Write a still at a time [s], half-way if None, and a movie; return the paths written."""
    scene = Scene(tracks, view=view, scale=scale)
    out = []
    if still is not None:
        out.append(write_still(scene, still, 0.5 * scene.end if at is None else at))
    if movie is not None:
        write = write_mp4 if movie.lower().endswith(".mp4") else write_gif
        out.append(write(scene, movie))
    scene.plotter.close()
    return out
