"""The way from the set-up flown today to another one: one thing changed at a time."""

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from math import ceil

from sim import tables
from sim.describe import Aeroplane, FileFault, SetUp
from sim.study.combinations import gyro_words, nozzle_words, weights_words
from sim.study.throws_told import flap_words, throws_changed
from sim.units.quantities import LENGTH, MASS
from sim.weigh import weigh_set_up

TODAY, BALANCE, AFRESH = "today", "balance", "afresh"
# what a set-up may change in, in the order it is changed: key of a set-up, and its words
CHANGES: dict[str, Callable[[SetUp], str]] = {
    "loose_weights": weights_words,
    "pack": lambda setup: f"pack {setup.pack}",
    "throws": lambda setup: "throws of this card",
    "flap_deg": lambda setup: flap_words(setup) or "flap neutral",
    "nozzle_mm": nozzle_words,
    "gyro": gyro_words,
}


@dataclass(frozen=True)
class Stop:
    """A set-up on the way, and the one thing that was changed to come to it.

    ``kind`` is ``TODAY``, ``BALANCE`` or a key of ``CHANGES``; ``what`` says it in words.
    ``AFRESH`` is several at once.
    """

    kind: str
    what: str
    setup: SetUp


@dataclass(frozen=True)
class Missing:
    """A change that cannot be had on its own at a balance point [mm], and why."""

    what: str
    balance_aft_mm: float
    why: str


@dataclass(frozen=True)
class Way:
    """All stops from today's set-up on; ``complete`` where they lead to the end.

    ``missing`` are changes whose turn it was, but which could not be had where they stood;
    where the way is complete they come later on it.
    """

    stops: tuple[Stop, ...]
    complete: bool
    missing: tuple[Missing, ...]


def largest_step_mm(mean_chord_mm: float) -> float:
    """Return by how much a balance point may go aft in one flight [mm]."""
    values = tables.card()
    most = values.most_step_pct_mac / 100.0 * mean_chord_mm
    return float(min(max(most, values.least_step_mm), values.most_step_mm))


def balances(start_mm: float, end_mm: float, step_mm: float) -> list[float]:
    """Return the balance points of a ladder [mm], in even steps no larger than ``step_mm``.

    Going aft in whole millimetres, but for the two ends. Going forward is one step. Two
    that cannot be told apart are one.
    """
    way = end_mm - start_mm
    if abs(way) < tables.card().same_balance_mm:
        return [start_mm]
    if way < 0.0:
        return [start_mm, end_mm]
    count = max(1, ceil(way / step_mm - 1e-9))
    inner = [float(round(start_mm + way * i / count)) for i in range(1, count)]
    return [start_mm, *inner, end_mm]


def changes_between(today: SetUp, wanted: SetUp) -> tuple[str, ...]:
    """Return in what two set-ups differ apart from their balance, in the order to be changed."""
    return tuple(key for key in CHANGES if _of(today, key) != _of(wanted, key))


def unlike_words(aeroplane: Aeroplane, setup: SetUp, wanted: SetUp) -> tuple[str, ...]:
    """Return what but the pack is not yet as in the wanted set-up: how it is instead."""
    told = {**CHANGES, "throws": lambda x: f"throws {throws_changed(wanted, x, aeroplane)}"}
    return tuple(told[key](setup) for key in changes_between(setup, wanted) if key != "pack")


def find_way(
    aeroplane: Aeroplane, today: SetUp, wanted: SetUp, places: Sequence[float], to_wanted: bool
) -> Way:
    """Return the way from one set-up to another.

    The changes come first and leave the balance where it is today, the pack moved to
    keep it; then the balance goes aft along ``places``. Where it goes forward, that comes
    first. A change that cannot be had there waits until it can. Weights are added
    for balance only at places where one of the two set-ups has some, unless there is no
    other way.

    Parameters
    ----------
    places : sequence of float
        Balance points [mm], today's first.
    to_wanted : bool
        True: the last stop is ``wanted`` itself; False: as it, at the last of ``places``.
    """
    weighed = [weigh_set_up(aeroplane, setup) for setup in (today, wanted)]
    own = {name for one in weighed for name, _ in one.added_weights}
    every = {spot.name for spot in aeroplane.weight_places}
    for allowed in (own, every):
        way = _Search(
            aeroplane=aeroplane,
            today=today,
            wanted=wanted,
            places=places,
            to_wanted=to_wanted,
            allowed=allowed,
        ).way()
        if way.complete:
            break
    return way


def afresh(
    aeroplane: Aeroplane, today: SetUp, wanted: SetUp, goal_mm: float, front_mm: float,
    to_wanted: bool,
) -> Way:  # fmt: skip
    """Return a way that begins with all changes at once, forward of where it leads.

    For where the single changes lead through what must not be flown. It begins at most so
    many steps forward as the table says, no further forward than ``front_mm``, and as far
    forward as can be had without weights that the wanted set-up has not; then it goes aft.

    Parameters
    ----------
    goal_mm : float
        Where it leads: a balance point [mm].
    to_wanted : bool
        True: the last stop is ``wanted`` itself; False: as it, at ``goal_mm``.
    """
    values = tables.card()
    weighed = weigh_set_up(aeroplane, wanted)
    step = largest_step_mm(1000.0 * weighed.reference.mean_chord_m)
    start = min(goal_mm, max(front_mm, goal_mm - values.afresh_steps_forward * step))
    own = {name for name, _ in weighed.added_weights}
    setups: list[SetUp] = []
    for place in reversed(balances(start, goal_mm, step_mm=step)):
        setup = wanted if to_wanted and not setups else wanted.at_balance(place)
        try:
            added = weigh_set_up(aeroplane, setup).added_weights
        except FileFault:
            break
        if not {name for name, _ in added} <= own:
            break
        setups.insert(0, setup)
    if not setups:
        return Way((), False, ())
    told = [CHANGES[key](wanted) for key in changes_between(today, wanted)]
    at = [weigh_set_up(aeroplane, setup).balance_aft_mm for setup in setups]
    first = Stop(
        AFRESH, f"set up afresh: {', '.join([*told, f'balance {LENGTH.ahead(at[0])}'])}", setups[0]
    )
    moved = [
        Stop(BALANCE, f"balance from {LENGTH.at_most(old)} to {LENGTH.ahead(new)}", setup)
        for (old, new), setup in zip(itertools.pairwise(at), setups[1:], strict=True)
    ]
    return Way((first, *moved), True, ())


Node = tuple[frozenset[str], int]  # changes made, and how many balance points passed


@dataclass
class _Search:
    aeroplane: Aeroplane
    today: SetUp
    wanted: SetUp
    places: Sequence[float]
    to_wanted: bool
    allowed: set[str]
    faults: dict[Node, str | None] = field(default_factory=dict)
    dead: set[Node] = field(default_factory=set)

    def way(self) -> Way:
        """Return the way, or the longest part of one."""
        nodes = self._walk((frozenset(), 0))
        stops = [Stop(TODAY, f"as flown today: {self.today.name}", self.today)]
        missing: list[Missing] = []
        for before, node in itertools.pairwise(nodes):
            stops.append(Stop(*self._told(before, node), self._setup(node)))
            missing += self._missed(before, node)
        complete = self._is_end(nodes[-1])
        if not complete:
            missing += self._missed(nodes[-1], None)
        known = {(x.what, x.balance_aft_mm): x for x in missing}
        return Way(tuple(stops), complete, tuple(known.values()))

    def _is_end(self, node: Node) -> bool:
        return node == (frozenset(changes_between(self.today, self.wanted)), len(self.places) - 1)

    def _walk(self, node: Node) -> list[Node]:
        """Return the nodes from here to the end, or as far as they go."""
        longest: list[Node] = []
        for after in self._onward(node):
            if after in self.dead or self._fault(after) is not None:
                continue
            rest = self._walk(after)
            if self._is_end(rest[-1]):
                return [node, *rest]
            longest = max(longest, rest, key=len)
            self.dead.add(after)
        return [node, *longest]

    def _onward(self, node: Node) -> Iterator[Node]:
        """Yield what may come next, the preferred first."""
        made, at = node
        changes = [
            (made | {key}, at)
            for key in changes_between(self.today, self.wanted)
            if key not in made
        ]
        moves = [(made, at + 1)] if at + 1 < len(self.places) else []
        forward = len(self.places) > 1 and self.places[-1] < self.places[0]
        yield from [*moves, *changes] if forward else [*changes, *moves]

    def _setup(self, node: Node) -> SetUp:
        made, at = node
        if self.to_wanted and self._is_end(node):
            return self.wanted
        if node == (frozenset(), 0):
            return self.today
        update = {key: getattr(self.wanted, key) for key in made}
        if "gyro" in made:
            update["gyro_settings"] = self.wanted.gyro_settings
        return self.today.model_copy(update=update).at_balance(self.places[at])

    def _fault(self, node: Node) -> str | None:
        """Return why a set-up on the way cannot be had, None where it can."""
        if node not in self.faults:
            self.faults[node] = self._why_not(node)
        return self.faults[node]

    def _why_not(self, node: Node) -> str | None:
        try:
            added = weigh_set_up(self.aeroplane, self._setup(node)).added_weights
        except FileFault as fault:
            return "; ".join(x.text for x in fault.faults)
        more = [f"{MASS(grams)} at the {name}" for name, grams in added if name not in self.allowed]
        return f"it would need {', '.join(more)} as well" if more else None

    def _told(self, before: Node, node: Node) -> tuple[str, str]:
        """Return the one thing that differs between two nodes: its kind, and in words."""
        if node[1] != before[1]:
            old, new = self.places[before[1]], self.places[node[1]]
            return BALANCE, f"balance from {LENGTH.at_most(old)} to {LENGTH.ahead(new)}"
        (key,) = node[0] - before[0]
        return key, CHANGES[key](self.wanted)

    def _missed(self, before: Node, taken: Node | None) -> Iterator[Missing]:
        """Yield what would have come before ``taken``, but cannot be had."""
        for node in self._onward(before):
            if node == taken:
                return
            why = self._fault(node)
            if why is not None:
                yield Missing(self._told(before, node)[1], self.places[node[1]], why)


def _of(setup: SetUp, key: str) -> object:
    if key == "gyro":  # gains do not count while it is off
        return setup.gyro_settings if setup.gyro == "on" else None
    value: object = getattr(setup, key)
    return value
