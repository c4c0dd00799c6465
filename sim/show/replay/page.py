"""Flights to play inside a page: the viewer's own script and style, and the flights packed."""

from base64 import b64encode
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from markupsafe import Markup

from sim.record.fields import Json
from sim.record.models.recording import MeshPart, Recording
from sim.show.report.page import environment
from sim.show.report.parts import Section, Table, section
from sim.units.quantities import HEIGHT, SPEED

FOLDER = Path(__file__).parent / "viewer"
# One scope, in this order: each uses only names of those before it while it loads.
SCRIPTS = (
    "algebra.js", "flight.js", "paint.js", "cameras.js", "scene.js", "labels.js", "sticks.js",
    "strips.js", "timeline.js", "stage.js", "viewer.js",
)  # fmt: skip
SCHEMA = "aftlimit.replay/1"
PILOT_ASIDE_M = 90.0  # as cameras.js has it
POST_M, POST_FT = 20.0, 50.0  # bands of the height posts
# What is read to a percent at best travels as one byte, everything else as two.
COARSE = frozenset({"elevator", "aileron", "rudder", "throttle"})
ALIKE_M = 2e-3  # parts of two meshes that differ by less are one: points come rounded
TOLD = {
    "title", "aeroplane", "setup", "pack", "balance_aft_mm", "manoeuvre", "recovery", "draw",
    "side", "verdict", "height_lost_m", "entry_m", "floor_m", "stall_alpha_deg",
    "stall_inverted_deg",
}  # fmt: skip


def replay_section(
    recordings: Sequence[Recording], title: str = "Flights to play"
) -> Section | None:
    """Return a section that plays flights, whole in itself; None where there are none.

    A page may hold one such section. Without script, and on paper, it is a table.

    Parameters
    ----------
    recordings : sequence of Recording

    Raises
    ------
    ValueError
        A recording with a value that is not a number.
    """
    if not recordings:
        return None
    player = environment(FOLDER).get_template("player.html")
    made = player.render(
        still=_still(recordings), data=packed_flights(recordings), scripts=SCRIPTS,
        pilot=HEIGHT(PILOT_ASIDE_M),
    )  # fmt: skip
    return section(title, Markup(made))


def packed_flights(recordings: Iterable[Recording]) -> Json:
    """Return flights for the page: each part of an aeroplane once, columns as whole numbers."""
    parts: list[Part] = []
    flights = [_flight(recording, parts) for recording in recordings]
    data = {"schema": SCHEMA, "parts": [part.packed() for part in parts], "flights": flights}
    return data if HEIGHT.is_default and SPEED.is_default else data | {"units": _units()}


def _units() -> Json:
    """Return the units that the page tells heights and speeds in."""
    post_m = POST_M if HEIGHT.is_default else POST_FT / HEIGHT.value(1.0)
    return {
        "height": {"symbol": str(HEIGHT), "each": HEIGHT.value(1.0), "post": post_m},
        "speed": {"symbol": str(SPEED), "each": SPEED.value(1.0)},
    }


def _flight(recording: Recording, parts: list["Part"]) -> Json:
    mesh = recording.mesh
    forward = 1e-3 * mesh.origin_aft_mm
    return {
        **recording.model_dump(mode="json", include=TOLD),
        "events": [event.content() for event in recording.events],
        "span_m": mesh.span_m,
        "forward_m": forward,
        "parts": [_number(Part.of(part, forward), parts) for part in mesh.parts],
        "columns": {
            k: packed(v, 1 if k in COARSE else 2, k)
            for k, v in recording.columns
            if k != "surfaces"
        },
        "surfaces": {k: packed(v, 1, k) for k, v in recording.columns.surfaces.items()},
    }


def _number(part: "Part", parts: list["Part"]) -> int:
    """Return a part's place in the list, which it joins if none is like it."""
    for i, other in enumerate(parts):
        if part.like(other):
            return i
    parts.append(part)
    return len(parts) - 1


@dataclass(frozen=True)
class Part:
    """A part of an aeroplane, from the datum: ``vertices`` (n, 3) [m], ``triangles`` (k,)."""

    name: str
    vertices: np.ndarray
    triangles: tuple[int, ...]
    hinge: Json | None

    @staticmethod
    def of(part: MeshPart, forward: float) -> "Part":
        """Return a part of a mesh whose points were moved forward [m] from the datum."""
        back = np.array([forward, 0.0, 0.0])
        hinge = None
        if part.hinge is not None:
            point = [round(float(x), 5) for x in np.asarray(part.hinge.point) - back]
            written = part.hinge.content()
            hinge = {key: written[key] for key in ("channel", "axis", "sign")} | {"point": point}
        vertices = np.asarray(part.vertices, dtype=float).reshape(-1, 3) - back
        return Part(part.name, vertices, tuple(part.triangles), hinge)

    def like(self, other: "Part") -> bool:
        """Tell whether two parts are the same but for rounding."""
        if (self.name, self.triangles) != (other.name, other.triangles):
            return False
        if (self.hinge is None) != (other.hinge is None) or (
            self.hinge and other.hinge and self.hinge["channel"] != other.hinge["channel"]
        ):
            return False
        return self.vertices.shape == other.vertices.shape and bool(
            np.allclose(self.vertices, other.vertices, rtol=0.0, atol=ALIKE_M)
        )

    def packed(self) -> Json:
        """Return the part for the page."""
        return {
            "name": self.name,
            "vertices": packed(self.vertices.ravel(), 2, self.name),
            "triangles": packed(self.triangles, 2, self.name, whole=True),
            "hinge": self.hinge,
        }


def packed(
    values: Sequence[float] | np.ndarray, size: int, name: str = "column", whole: bool = False
) -> Json:
    """Return numbers as whole steps above their least, in base64.

    Parameters
    ----------
    values : sequence of float (n,)
    size : int
        Bytes a number, 1 or 2; the error is at most half a step, the range over 510 or 131070.
    whole : bool
        Numbers are whole already, from 0 to 65535, and stay as they are.

    Raises
    ------
    ValueError
        A value that is not a number.
    """
    array = np.asarray(values, dtype=float)
    if not np.isfinite(array).all():
        raise ValueError(f"{name}: must be numbers throughout; got {array[~np.isfinite(array)][0]}")
    most = 256**size - 1
    least = 0.0 if whole or not array.size else float(array.min())
    step = 1.0 if whole or not array.size else float(array.max() - least) / most
    steps = np.round((array - least) / step) if step > 0.0 else np.zeros(0)
    if steps.size and (steps.min() < 0.0 or steps.max() > most):
        raise ValueError(f"{name}: must be from 0 to {most}; got {array.max():g}")
    raw = steps.astype(f"<u{size}").tobytes()
    return {
        "least": least,
        "step": step,
        "bytes": size,
        "count": int(array.size),
        "packed": b64encode(raw).decode("ascii"),
    }


def _no_minus(height_m: float) -> float:
    """Return a height, nought where it would be told as a minus before nought."""
    return 0.0 if abs(height_m) <= 0.5 else height_m


def _still(recordings: Sequence[Recording]) -> Table:
    rows = []
    for x in recordings:
        lost = x.height_lost_m
        events = ", ".join(f"{e.name} {e.t_s:.1f} s" for e in x.events)
        rows.append((
            x.title, x.verdict, events or "none",
            "did not come back" if lost is None else HEIGHT.figure(lost),
            f"{np.max(np.abs(x.columns.alpha_deg)):.0f}",
            HEIGHT.figure(_no_minus(min(x.columns.up_m))),
        ))  # fmt: skip
    heads = (
        "flight", "verdict", "what happened when", f"height lost after first input, {HEIGHT}",
        "angle of attack at most, either way, °", f"lowest height, {HEIGHT}",
    )  # fmt: skip
    return Table("Flights", heads, rows, words=3)
