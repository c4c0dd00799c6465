"""A recording as arrays: where an aeroplane is at any time, and the ribbon of its path."""

from pathlib import Path

import numpy as np
from scipy.spatial.transform import Rotation, Slerp

from sim.record.fields import kind_name
from sim.record.files import checked, read_json, schema_told
from sim.record.models.recording import Columns, MeshHinge, Recording

# columns: north, east, down to x east, y north, z up
ENU_OF_NED = np.array([[0.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, -1.0]])


class Track:
    """A recording read for replay.

    ``times`` (n,) [s]; ``places`` (n, 3) [m] east, north, up, the start above the origin;
    ``alpha`` (n,) [degrees]; ``told`` is the recording itself.
    """

    def __init__(self, told: Recording) -> None:
        """Read a recording, whose model has seen to it that it can be played."""
        self.told = told
        self.columns = {k: np.array(v, float) for k, v in told.columns if k != "surfaces"}
        self.surfaces = {k: np.array(v, float) for k, v in told.columns.surfaces.items()}
        self.times = self.columns["t_s"]
        self.places = np.column_stack([self.columns[c] for c in ("east_m", "north_m", "up_m")])
        self.alpha = self.columns["alpha_deg"]
        turns = np.column_stack([self.columns[c] for c in ("q1", "q2", "q3", "q0")])
        self._turns = Slerp(self.times, Rotation.from_quat(turns))

    @property
    def end(self) -> float:
        """Last time of the recording [s]."""
        return float(self.times[-1])

    def value(self, column: str, t: float) -> float:
        """Return a column at a time [s]; 0 if the recording has none of that name."""
        values = self.columns.get(column)
        return 0.0 if values is None else float(np.interp(t, self.times, values))

    def place(self, t: float) -> np.ndarray:
        """Return east, north, up (3,) [m] at a time [s]."""
        return np.array([np.interp(t, self.times, self.places[:, i]) for i in range(3)])

    def attitude(self, t: float) -> np.ndarray:
        """Return the matrix (3, 3) from body axes to east, north, up at a time [s]."""
        ned: np.ndarray = self._turns(np.clip(t, self.times[0], self.end)).as_matrix()
        return ENU_OF_NED @ ned

    def angle(self, channel: str, t: float) -> float:
        """Return a moving part's angle [rad] at a time [s]; 0 for one not recorded."""
        values = self.surfaces.get(channel)
        return 0.0 if values is None else float(np.radians(np.interp(t, self.times, values)))

    def heading(self, t: float, over_s: float = 1.5) -> np.ndarray:
        """Return the unit vector (3,) along which it goes over the ground around a time [s].

        Where it goes straight down, it is the way it came from the start.
        """
        way = self.place(min(t + over_s, self.end)) - self.place(max(t - over_s, 0.0))
        way[2] = 0.0
        if np.linalg.norm(way) < 3.0:
            way = self.place(self.end) - self.places[0]
            way[2] = 0.0
        size = float(np.linalg.norm(way))
        return way / size if size > 1.0 else np.array([0.0, 1.0, 0.0])

    def ribbon(self, half_width: float) -> np.ndarray:
        """Return the two edges (2, n, 3) of a ribbon along the path, wings as it had them."""
        wings = np.array([self.attitude(t)[:, 1] for t in self.times]) * half_width
        return np.array([self.places - wings, self.places + wings])

    def event_at(self, t: float) -> str:
        """Return the latest event at a time [s]; empty before the first."""
        past = [e.name for e in self.told.events if e.t_s <= t + 1e-6]
        return past[-1] if past else ""

    def phase_at(self, t: float) -> str:
        """Return the phase flown at a time [s]; empty before the first."""
        past = [p.name for p in self.told.phases if p.from_s <= t + 1e-6]
        return past[-1] if past else ""


def part_matrix(track: Track, hinge: MeshHinge | None, t: float, scale: float) -> np.ndarray:
    """Return the matrix (4, 4) that puts a part of the mesh into the scene at a time [s].

    The part turns on its hinge, is moved to the balance point, magnified, and turned and
    carried with the aeroplane.
    """
    body = np.eye(4)
    if hinge is not None:
        angle = hinge.sign * track.angle(hinge.channel, t)
        turn = Rotation.from_rotvec(angle * np.array(hinge.axis)).as_matrix()
        point = np.array(hinge.point)
        body[:3, :3] = turn
        body[:3, 3] = point - turn @ point
    told = track.told
    body[0, 3] += 1e-3 * (told.balance_aft_mm - told.mesh.origin_aft_mm)
    world = np.eye(4)
    world[:3, :3] = track.attitude(t) * scale
    world[:3, 3] = track.place(t)
    return world @ body


def read_track(path: Path | str) -> Track:
    """Read a recording from its file.

    Raises
    ------
    ValueError
        It is no recording; the text names the file.
    FileFault
        It is one with keys missing, unknown or wrong; a line for each.
    """
    path = Path(path)
    try:
        content = read_json(path)
    except ValueError as error:
        raise ValueError(f"{path}: is not a recording (no JSON: {error})") from None
    said, wanted = schema_told(content), kind_name(Recording)
    if said != wanted:
        text = f'must be a recording with schema "{wanted}"; got {said!r}. A study writes some'
        raise ValueError(f"{path}: {text} into its replay folder, and replay --json writes one")
    columns = content.get("columns")
    if isinstance(columns, dict):
        lacking = [name for name in Columns.model_fields if name not in columns]
        if lacking:
            raise ValueError(f"{path}: the recording lacks the columns {', '.join(lacking)}")
    return Track(checked(content, Recording, path))
