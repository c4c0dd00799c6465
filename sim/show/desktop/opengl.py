"""Whether this computer can draw and write a replay; drawing is tried in another process.

Without OpenGL the drawing library does not raise: it takes the whole process down. So a
small picture is drawn in another process first.
"""

import importlib.util
import os
import subprocess
import sys
from functools import lru_cache

NO_LIBRARY = "replay needs the drawing library pyvista; install it with: pip install pyvista"
NO_ENCODER = (
    "needs imageio-ffmpeg; install it with: pip install imageio-ffmpeg, or name a file in .gif"
)
REMEDIES = {
    "linux": "install OpenGL: Debian, Ubuntu: apt-get install libegl1 libgl1-mesa-dri; "
    "Fedora: dnf install mesa-libEGL mesa-dri-drivers",
    "win32": "install the graphics card's own driver for Windows, from its maker's pages",
    "darwin": "update macOS, which brings its graphics driver, and do not run it over ssh",
}
PROBE = """
import numpy, pyvista
plotter = pyvista.Plotter(off_screen=True, window_size=(64, 64))
plotter.add_mesh(pyvista.Sphere(), color="white")
plotter.set_background("black")
assert numpy.ptp(plotter.screenshot(return_img=True)) > 0
print("drawn")
"""
PROBE_S = 120.0


class CannotDrawError(ValueError):
    """This computer cannot draw a replay; the text names what to install."""


def use_off_screen_drawing() -> None:
    """Ask for drawing without a display, before the drawing library is first imported."""
    if sys.platform.startswith("linux"):
        os.environ.setdefault("VTK_DEFAULT_OPENGL_WINDOW", "vtkEGLRenderWindow")


def check_outputs(still: str | None, movie: str | None) -> None:
    """Refuse, before any work, a still or a movie that cannot be written.

    Raises
    ------
    ValueError
        Another ending than .png, .gif or .mp4, or nothing here to write .mp4 with.
    """
    if still is not None and not still.lower().endswith(".png"):
        raise ValueError(f"--still {still}: a still ends in .png")
    if movie is None:
        return
    if not movie.lower().endswith((".gif", ".mp4")):
        raise ValueError(f"--movie {movie}: a movie ends in .gif or .mp4")
    if movie.lower().endswith(".mp4") and importlib.util.find_spec("imageio_ffmpeg") is None:
        raise ValueError(f"--movie {movie}: {NO_ENCODER}")


@lru_cache(maxsize=1)
def fault_of_drawing() -> str:
    """Return why this computer cannot draw, in one line; empty if it can."""
    if importlib.util.find_spec("pyvista") is None:
        return NO_LIBRARY
    environment = dict(os.environ)
    if sys.platform.startswith("linux"):
        environment["VTK_DEFAULT_OPENGL_WINDOW"] = "vtkEGLRenderWindow"
    try:
        done = subprocess.run(
            [sys.executable, "-c", PROBE], env=environment, capture_output=True, text=True,
            timeout=PROBE_S, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return f"a trial picture was not drawn within {PROBE_S:.0f} s; {_remedy()}"
    if done.returncode == 0 and "drawn" in done.stdout:
        return ""
    return f"this computer cannot draw in 3D; {_remedy()}"


def _remedy() -> str:
    return REMEDIES.get(sys.platform, "install a working OpenGL driver")


def has_display() -> bool:
    """Return True where a window can be opened."""
    if sys.platform.startswith("linux"):
        return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
    return True


def demand_drawing(window: bool) -> None:
    """Raise CannotDrawError unless a replay can be drawn, in a window or off-screen."""
    fault = fault_of_drawing()
    if not fault and window and not has_display():
        fault = "there is no display to open a window on; use --still FILE.png or --movie FILE.gif"
    if fault:
        raise CannotDrawError(fault)
    if not window:
        use_off_screen_drawing()
