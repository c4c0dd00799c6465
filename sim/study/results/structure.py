"""What a set-up's flights asked of its servos and its wing."""

from dataclasses import dataclass


@dataclass(frozen=True)
class ServoNeed:
    """The most that any servo of a channel needed to hold where it was asked to be, and where.

    Of all flights that could be calculated, each flown with what the air did to the servo, where
    the file states a torque; torques in N cm. ``stated_ncm`` None: not judged, and of the flights
    flown again alone, as is ``at_stop``: the air ran it to an end stop. 95 % of flights stay below
    ``p95_ncm`` (None as before); ``flights`` needed more than is stated; in ``held_flights`` the
    air held the surface off where it was asked to be, by at most ``short_deg``.
    """

    channel: str
    stated_ncm: float | None
    needed_ncm: float
    p95_ncm: float | None
    manoeuvre: str
    speed_mps: float
    alpha_deg: float
    deflection_deg: float
    stalled: bool
    at_stop: bool
    flights: int
    held_flights: int
    short_deg: float

    @property
    def share(self) -> float | None:
        """Needed over stated [-]; None where none is stated."""
        return None if self.stated_ncm is None else self.needed_ncm / self.stated_ncm


@dataclass(frozen=True)
class ManoeuvreLoad:
    """Load factors of all flights of one manoeuvre: the most [g], and how many passed the limit."""

    manoeuvre: str
    flights: int
    most_g: float
    over: int


@dataclass(frozen=True)
class Structure:
    """Servos and wing of a set-up against what its file states.

    Load factors and speeds are of all ``flights`` that could be calculated, whichever way the
    load, the ``unresolved`` ones left out; ``speeds_of`` of them tell a speed. So are servos;
    bending is of the ``again`` ones, flown again with histories. ``bending_share`` is the most
    bending moment at a root of the wing over that at the limit load factor
    (`sim.structure.flight_loads`).
    """

    limit_g: float
    most_g: float
    p95_g: float
    over_g: int
    flights: int
    unresolved: int
    never_exceed_mps: float
    most_mps: float
    p95_mps: float
    over_mps: int
    speeds_of: int
    loads: tuple[ManoeuvreLoad, ...]
    again: int
    bending_share: float
    bending_in: str
    bending_over: int
    servos: tuple[ServoNeed, ...]
