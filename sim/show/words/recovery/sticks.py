"""A recovery in a pilot's words: stick by stick, and what to wait for."""

from sim.describe import Phase, Recovery

# in the order they are moved
WAYS = {
    "rudder": ("right", "left"),
    "aileron": ("right", "left"),
    "elevator": ("aft", "forward"),
}
TOWARDS = {"spin": ("with the turn", "against the turn"), "side": ("inwards", "outwards")}
ENDS = {
    "yaw_rate_below_dps": "the rotation stops",
    "rotation_below_dps": "the rotation stops",
    "unstalled": "it is unstalled",
    "alpha_below_deg": "it is unstalled",
    "size_of_alpha_below_deg": "it is unstalled",
    "speed_over_stall_above": "it has its speed back",
    "flight_path_above_deg": "it no longer sinks",
}


# what the pilot flown here does: pilot.toml
NO_TURN = "Hardly turning: rudder and ailerons centred. Turning the other way: begin anew."


def recovery_steps(recovery: Recovery) -> list[str]:
    """Return the inputs of a recovery in order, a sentence a phase.

    The first with rudder against the turn says what holds where there is none.
    """
    phases = recovery.phases
    around = zip([None, *phases], phases, [*phases[1:], None], strict=False)
    out = [_told(before, phase, after) for before, phase, after in around]
    if phases[0].rudder < 0.0 and phases[0].relative_to == "spin":
        out[0] += f" {NO_TURN}"
    return out


def _told(before: Phase | None, phase: Phase, after: Phase | None) -> str:
    if phase.pilot == "pull_out":
        power = _throttle(phase)
        end = f"; {power[0]}" if power else ""
        return f"Wings level, rudder centred, ease the stick back and pull out{end}."
    held = [] if before is None or before.pilot != "sticks" else _inputs(before)
    moved = [text for text in _inputs(phase) if text not in held]
    if not moved:
        moved = ["all held"]
    elif len(moved) < len(_inputs(phase)) and not _neutral(phase):
        moved.append("the rest held")
    text = f"{', '.join(moved)}{_waiting(phase)}{_letting_go(phase, after)}."
    return text[0].upper() + text[1:]


def _inputs(phase: Phase) -> list[str]:
    """Return where throttle and sticks go, or what the pilot flies instead."""
    if phase.pilot == "sticks":
        return [*_throttle(phase), *_sticks(phase)]
    if phase.pilot == "rocking":
        return [*_throttle(phase), _rocking(phase)]
    wings = phase.pilot in ("wings_level", "either_way_up")
    what = "keep the wings level" if wings else "fly level"
    return [what, *_throttle(phase)]


def _rocking(phase: Phase) -> str:
    size = "full" if abs(phase.elevator) == 1.0 else f"{100.0 * abs(phase.elevator):.0f} %"
    return f"rock: stick {size} aft while the nose rises, {size} forward while it falls"


def _throttle(phase: Phase) -> list[str]:
    if phase.throttle is None:
        return []
    if phase.throttle == 0.0:
        return ["throttle closed"]
    return ["full throttle" if phase.throttle == 1.0 else f"throttle {100 * phase.throttle:.0f} %"]


def _neutral(phase: Phase) -> bool:
    return phase.elevator == phase.aileron == phase.rudder == 0.0


def _sticks(phase: Phase) -> list[str]:
    if _neutral(phase):
        return ["all sticks centred"]
    return [_stick(phase, name, getattr(phase, name)) for name in WAYS]


def _stick(phase: Phase, name: str, share: float) -> str:
    """Return where one stick goes; in an inverted spin all but the rudder turn about."""
    if share == 0.0:
        return f"{name} centred"
    ways = WAYS[name]
    if name != "elevator" and phase.relative_to in TOWARDS:
        ways = TOWARDS[phase.relative_to]
    way, other = ways if share > 0.0 else ways[::-1]
    size = "full" if abs(share) == 1.0 else f"{100.0 * abs(share):.0f} %"
    text = f"stick {size} {way}" if name == "elevator" else f"{size} {name} {way}"
    if phase.relative_to == "spin" and name != "rudder":
        text += f" ({other.removesuffix(' the turn')} if inverted)"
    return text


def _waiting(phase: Phase) -> str:
    """Return what ends a phase, in words; its time where nothing else does."""
    until = phase.until
    parts = []
    if until is not None:
        given = until.model_dump(exclude_none=True)
        parts = list(dict.fromkeys(text for key, text in ENDS.items() if key in given))
    if not parts:
        return f", for {phase.at_most_s:g} s"
    return f", until {' and '.join(parts)}"


def _letting_go(phase: Phase, after: Phase | None) -> str:
    """Return the words that matter most: inputs held on drive into another spin."""
    if phase.until is None or after is None or _neutral(phase):
        return ""
    released = after.pilot == "pull_out" or (after.pilot == "sticks" and _neutral(after))
    return ", then centre at once" if released else ""
