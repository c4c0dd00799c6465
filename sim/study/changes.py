"""Before and after: what each single change moves, from the set-up flown today to another."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sim.core.motion.rigid_body import STANDARD_GRAVITY
from sim.describe import Aeroplane, FileFault, LooseWeight, SetUp, Study, StudyFiles
from sim.landing.forward import ForwardLimit
from sim.pack.assemble import Assembled, assemble
from sim.power.operating_point import operating_point
from sim.study.combinations import (
    combination_key,
    gyro_words,
    named_setup,
    nozzle_words,
    weights_words,
)
from sim.study.flight_time.reckoning import flight_time
from sim.study.gains import trim_line
from sim.study.results.aft_limit import AftLimit
from sim.study.results.flight_time import FlightTime
from sim.study.results.result import BeforeAfter, Change
from sim.study.results.set_up import SetUpResult
from sim.study.standing.heights import shown_from_all
from sim.study.standing.outcomes import best_recovery
from sim.study.standing.window import Window, window_of
from sim.study.throws_told import flap_words, throws_changed
from sim.trim.trimming import level, neutral_point_pct
from sim.units.quantities import LENGTH, MASS
from sim.weigh import weigh_set_up

LEAST_G = 0.1  # the least that a file may give as a loose weight


@dataclass(frozen=True)
class Stage:
    """A set-up on the way, and the one thing that was changed to come to it."""

    what: str
    setup: SetUp


def today_of(files: StudyFiles) -> str:
    """Return the name of the set-up flown today; the aeroplane's first if the study is silent."""
    return files.study.today or files.aeroplane.first_setup


def stages(aeroplane: Aeroplane, before: SetUp, after: SetUp) -> list[Stage]:
    """Return what changes from one set-up to another, one thing at a time.

    Loose weights, pack, throws, flap, nozzle, gyro; the pack stays at its place on the tray
    meanwhile, so that each shows what it does to the balance point. The place comes last.
    """
    now = _pack_in_place(aeroplane, before)
    out = []
    names = {
        "loose_weights": weights_words(after),
        "pack": f"pack {after.pack}",
        "throws": f"throws {throws_changed(before, after, aeroplane)}",
        "flap_deg": flap_words(after) or "flap neutral",
        "nozzle_mm": nozzle_words(after),
    }
    for key, words in names.items():
        wanted = getattr(after, key)
        if getattr(before, key) != wanted:
            now = now.model_copy(update={key: wanted})
            out.append(Stage(words, now))
    gyro = {"gyro": after.gyro, "gyro_settings": after.gyro_settings}
    if (before.gyro, before.gyro_settings) != (after.gyro, after.gyro_settings):
        now = now.model_copy(update=gyro)
        out.append(Stage(gyro_words(after), now))
    return out


def _pack_in_place(aeroplane: Aeroplane, setup: SetUp) -> SetUp:
    """Return a set-up with its pack where it lies and its added weights as loose ones."""
    weighed = weigh_set_up(aeroplane, setup)
    places = {spot.name: spot for spot in aeroplane.weight_places}
    added = tuple(
        LooseWeight(
            name=name, mass_g=grams, aft_mm=places[name].aft_mm, right_mm=places[name].right_mm,
            up_mm=places[name].up_mm,
        )
        for name, grams in weighed.added_weights
        if grams >= LEAST_G
    )  # fmt: skip
    return setup.model_copy(
        update={
            "pack_aft_mm": weighed.pack_aft_mm,
            "balance_aft_mm": None,
            "loose_weights": (*setup.loose_weights, *added),
        }
    )


def before_and_after(
    files: StudyFiles,
    setups: Sequence[SetUpResult],
    ready: Sequence[Assembled],
    limits: Sequence[AftLimit],
    cruise_mps: float,
) -> tuple[BeforeAfter, ...]:
    """Return, for each set-up that differs from today's, what each change moved."""
    today = today_of(files)
    if not setups or not today:
        return ()
    aeroplane, study = files.aeroplane, files.study
    first = named_setup(aeroplane, study, today)
    start_words = "as flown today" if study.today else "the aeroplane's first set-up"
    ways = _Way(files, setups, ready, limits, cruise_mps)
    start = replace(ways.change(first), what=start_words)
    flown = {x.name: x for x in setups}
    if today in flown:
        start = _with_height(start, flown[today], study)
    out = []
    for setup, assembled in zip(setups, ready, strict=True):
        if setup.name == today:
            continue
        lines = [start]
        for stage in stages(aeroplane, first, assembled.setup):
            try:
                lines.append(replace(ways.change(stage.setup), what=stage.what))
            except FileFault:
                lines.append(Change(f"{stage.what}: cannot be had with the pack in this place"))
        last = replace(ways.change(assembled.setup), what=_place(setup))
        lines.append(_with_height(last, setup, study))
        out.append(BeforeAfter(today, setup.name, tuple(lines), cruise_mps))
    return tuple(out)


def _place(setup: SetUpResult) -> str:
    added = ", ".join(f"{MASS(grams)} at the {place}" for place, grams in setup.added_weights)
    text = f"balance to {LENGTH.ahead(setup.balance_aft_mm)}: pack to {LENGTH(setup.pack_aft_mm)}"
    return f"{text}, {added}" if added else text


class _Way:
    """What set-ups on the way are, each reckoned once; what is known of them from flights."""

    def __init__(
        self,
        files: StudyFiles,
        setups: Sequence[SetUpResult],
        ready: Sequence[Assembled],
        limits: Sequence[AftLimit],
        cruise_mps: float,
    ) -> None:
        self.files, self.limits, self.cruise_mps = files, limits, cruise_mps
        self.times = {
            at.setup.model_dump_json(): setup.flight_time
            for at, setup in zip(ready, setups, strict=True)
        }
        self.forward: dict[tuple[str, str], ForwardLimit | None] = {
            (x.pack, x.key): x.forward for x in limits
        }
        for at, setup in zip(ready, setups, strict=True):
            self.forward[at.setup.pack, combination_key(at.setup)] = setup.forward
        self.ready = {x.setup.model_dump_json(): x for x in ready}
        self.found: dict[str, Change] = {}

    def change(self, setup: SetUp) -> Change:
        """Return what a set-up is, without a word for how it was come to.

        Raises
        ------
        FileFault
            It cannot be had.
        """
        key = setup.model_dump_json()
        if key not in self.found:
            at = self.ready.get(key) or assemble(self.files.aeroplane, setup)
            if key not in self.times:
                self.times[key] = flight_time(at, self.files.study.duty, self.files.study.seed)
            self.found[key] = self._change(at, setup, self.times[key])
        return self.found[key]

    def _change(self, at: Assembled, setup: SetUp, time: FlightTime | None) -> Change:
        trim = trim_line(at, self.cruise_mps)
        _, margin = neutral_point_pct(at, level(at, self.cruise_mps))
        limit = limit_for(self.limits, setup)
        forward = self.forward.get((setup.pack, combination_key(setup)))
        window = window_of(forward, limit)
        static = operating_point(at.power, 1.0, 0.0, at.density).net_thrust_n
        return Change(
            what="",
            balance_aft_mm=at.weighed.balance_aft_mm,
            static_margin_pct=margin,
            tail_deg=trim.tail_deg if trim.found else None,
            stall_speed_mps=at.stall.speed_mps,
            pitch_response_dps2=trim.pitch_response_dps2,
            limit_mm=None if limit is None else limit.aft_mm,
            limit_low_mm=None if limit is None else limit.low_mm,
            limit_high_mm=None if limit is None else limit.high_mm,
            limit_fails_mm=None if limit is None else limit.first_failure_mm,
            limit_at_end=limit is not None and limit.at_end,
            mass_g=1000.0 * at.weighed.mass_kg,
            throttle=trim.throttle if trim.found else None,
            current_a=trim.current_a if trim.found else None,
            static_thrust_n=static,
            thrust_to_weight=static / (at.weighed.mass_kg * STANDARD_GRAVITY),
            top_mps=None if time is None else time.top_mps,
            minutes=None if time is None else time.minutes.middle,
            forward=forward,
            window_mm=_width(window),
        )


def _width(window: Window) -> float | None:
    """Return how wide a window is [mm]; None without one whose two ends are known."""
    if window.front_mm is None or window.aft_mm is None or window.at_end:
        return None
    return window.aft_mm - window.front_mm


def limit_for(limits: Sequence[AftLimit], setup: SetUp) -> AftLimit | None:
    """Return the aft limit searched for a set-up's own pack and combination, if any was."""
    key = combination_key(setup)
    return next((x for x in limits if x.pack == setup.pack and x.key == key), None)


def _with_height(change: Change, setup: SetUpResult, study: Study) -> Change:
    """Return a change with the entry height it is shown from; infinite where none shows it."""
    required = study.required_share_pct
    cases = best_recovery(setup, required)
    if not cases:
        return change
    return replace(change, height_m=shown_from_all(cases, required, study.draws))
