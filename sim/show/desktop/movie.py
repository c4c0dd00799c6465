"""Stills and movies of a replay, drawn off-screen."""

import io
import os
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

from sim.show.desktop.scene import Scene
from sim.written import write_atomically

MP4_HZ, GIF_HZ = 20.0, 10.0
GIF_COLOURS = 128
Watch = Callable[[int, int], None]  # pictures drawn, of how many
LAST_S = 1.5  # how long the last picture stays


def picture(scene: Scene, t: float) -> np.ndarray:
    """Return the scene at a time [s] as pixels (height, width, 3)."""
    scene.move(t)
    scene.plotter.render()
    return np.asarray(scene.plotter.screenshot(return_img=True))[:, :, :3]


def write_still(scene: Scene, path: Path | str, t: float) -> Path:
    """Write the scene at a time [s] as PNG."""
    path = Path(path)
    stream = io.BytesIO()
    Image.fromarray(picture(scene, t)).save(stream, "PNG")
    write_atomically(path, stream.getvalue())
    return path


def unwatched(done: int, total: int) -> None:
    """Tell nobody how far a movie is."""


def pictures(scene: Scene, rate_hz: float, watch: Watch) -> Iterator[np.ndarray]:
    """Yield the pictures of a whole replay in real time; the last one stays a while."""
    count = int(scene.end * rate_hz) + 1
    for i in range(count):
        yield picture(scene, i / rate_hz)
        watch(i + 1, count)
    last = picture(scene, scene.end)
    for _ in range(int(LAST_S * rate_hz)):
        yield last


def write_gif(scene: Scene, path: Path | str, watch: Watch = unwatched) -> Path:
    """Write a whole replay as an animated picture of few colours."""
    path = Path(path)
    small = [
        # the octree takes a tenth of the time of the usual way
        Image.fromarray(pixels).quantize(
            GIF_COLOURS, method=Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE
        )
        for pixels in pictures(scene, GIF_HZ, watch)
    ]
    stream = io.BytesIO()
    small[0].save(
        stream, "GIF", save_all=True, append_images=small[1:], duration=int(1000.0 / GIF_HZ),
        loop=0,
    )  # fmt: skip
    write_atomically(path, stream.getvalue())
    return path


def write_mp4(scene: Scene, path: Path | str, watch: Watch = unwatched) -> Path:
    """Write a whole replay as .mp4; no half-written file is left."""
    path = Path(path)
    path.parent.mkdir(parents=True, exist_ok=True)
    waiting = path.with_name(f".{os.getpid()}.{path.name}")
    encoder: Any = import_module("imageio_ffmpeg")  # may be absent, see replay_gl.check_outputs
    writer = encoder.write_frames(str(waiting), tuple(scene.plotter.window_size), fps=MP4_HZ)
    try:
        writer.send(None)
        for pixels in pictures(scene, MP4_HZ, watch):
            writer.send(np.ascontiguousarray(pixels))
        writer.close()
        os.replace(waiting, path)
    finally:
        writer.close()
        waiting.unlink(missing_ok=True)
    return path
