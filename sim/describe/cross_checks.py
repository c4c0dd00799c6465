"""What the tables of an aeroplane file say about each other.

These checks read the plain mapping a file parses into, not the models, and take a missing
or mistyped key for no reason to complain: that has its own fault. So a misspelt key does
not hide a set-up that names a missing pack, and all faults are told at once.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import get_args

from sim.describe.controls import FLAP
from sim.describe.edge_throws import throws_deg, travel_faults
from sim.describe.faults import Fault
from sim.describe.fore_and_aft import fore_and_aft
from sim.describe.geometry import Role
from sim.describe.known import known_faults
from sim.describe.masses import OF_MASSES, OF_POWER
from sim.describe.plain import Table, names, number, repeated, rows, table, unknown
from sim.describe.power import NOZZLE_SHARES_PCT
from sim.describe.stick_throws import shared_by, shared_sticks, stick_faults, whole_faults
from sim.describe.tray_checks import off_the_tray, tray_faults

AXIS_STICKS = {"roll": "aileron", "pitch": "elevator", "yaw": "rudder"}


def aeroplane_faults(raw: Table) -> list[Fault]:
    """Return what the tables of an aeroplane contradict in each other.

    Parameters
    ----------
    raw : mapping
        The parsed file.
    """
    checks = (
        _doubles, _empties, _surfaces, fore_and_aft, _airframe, tray_faults, _channels, _drive,
        _gyro, known_faults,
    )  # fmt: skip
    faults = [fault for check in checks for fault in check(raw)]
    known = table(raw, "setups")
    for name, block in known.items():
        if isinstance(block, Mapping):
            faults += setup_faults(block, f"setups.{name}", raw, [n for n in known if n != name])
    return faults + list(_circles(raw)) + list(_measured(raw))


def _doubles(raw: Table) -> Iterator[Fault]:
    for key in ("surfaces", "bodies", "parts", "weight_places", "fans", "propellers"):
        yield from repeated(rows(raw, key), key)
    yield from repeated(rows(raw, "airframe"), "airframe", "of")
    shared = set(names(rows(raw, "surfaces"))) & set(names(rows(raw, "bodies")))
    for name in sorted(shared):
        yield Fault(f"bodies.{name}", "name is also a surface's; give each its own")


def _empties(raw: Table) -> Iterator[Fault]:
    for key in ("packs", "setups", "channels", "servo_types"):
        if key in raw and raw[key] == {}:
            yield Fault(key, f"is empty; give at least one, as [{key}.NAME]")


def _surfaces(raw: Table) -> Iterator[Fault]:
    surfaces = rows(raw, "surfaces")
    roles = set(names(surfaces, "role"))
    # a misspelt role has its own fault
    if roles and roles <= set(get_args(Role)) and "wing" not in roles:
        yield Fault("surfaces", 'holds no wing; give the main surface role = "wing"')
    channels = table(raw, "channels")
    for surface in surfaces:
        for control in rows(surface, "controls"):
            path = f"surfaces.{surface.get('name')}.controls.{control.get('channel')}"
            yield from unknown(control, "channel", path, channels, "channels")


def _airframe(raw: Table) -> Iterator[Fault]:
    things = names(rows(raw, "surfaces")) + names(rows(raw, "bodies"))
    shares = rows(raw, "airframe")
    if not raw.get("airframe"):
        yield from _by_kind(raw)
    for share in shares:
        yield from unknown(
            share, "of", f"airframe.{share.get('of')}", things, "surfaces and bodies"
        )
    # a misspelt name has its own fault, and would leave another thing without mass
    if shares and set(names(shares, "of")) <= set(things):
        for thing in things:
            if thing not in names(shares, "of"):
                text = f"gives {thing!r} no mass; add [[airframe]] with of = {thing!r} and mass_g"
                yield Fault("airframe", text)


def _by_kind(raw: Table) -> Iterator[Fault]:
    """Yield a fault if there are neither shares of the airframe nor what they follow from."""
    measured = table(raw, "measured")
    lacking = [key for key in ("kind",) if key not in raw]
    lacking += [f"measured.{x}" for x in ("mass_g", "balance_aft_mm") if x not in measured]
    if lacking:
        text = "is missing; give [[airframe]] with of and mass_g for each surface and body, or "
        text += "kind and what it weighs and where it balances ([measured] mass_g and "
        yield Fault("airframe", f"{text}balance_aft_mm): {' and '.join(lacking)} not there")


def _channels(raw: Table) -> Iterator[Fault]:
    channels, servos = table(raw, "channels"), table(raw, "servo_types")
    used = {
        name
        for surface in rows(raw, "surfaces")
        for name in names(rows(surface, "controls"), "channel")
    }
    for name, channel in channels.items():
        if isinstance(channel, Mapping):
            yield from unknown(channel, "servo", f"channels.{name}", servos, "servo types")
            if "stick" not in channel and name != FLAP:
                text = f"is missing; only {FLAP!r} does without, as a set-up's flap_deg sets it"
                yield Fault(f"channels.{name}.stick", text)
        if name not in used and used <= set(channels):
            yield Fault(f"channels.{name}", "moves nothing; name it in a surface's controls")


def _gyro(raw: Table) -> Iterator[Fault]:
    yield from _moves_nothing(table(raw, "gyro"), "gyro", raw)
    for name in table(raw, "setups"):
        change = table(raw, "setups", name, "gyro_change")
        yield from _moves_nothing(change, f"setups.{name}.gyro_change", raw)


def _moves_nothing(gains: Table, path: str, raw: Table) -> Iterator[Fault]:
    """Yield a fault for each gain about an axis that no channel answers to."""
    channels = table(raw, "channels")
    for axis, stick in AXIS_STICKS.items():
        moved = any(number(table(channels, name, "stick"), stick) for name in channels)
        if number(gains, f"{axis}_gain") and channels and not moved:
            text = f"has no servo to move: no channel answers to the {stick} stick"
            mend = f"set it to 0, or give a channel stick = {{ {stick} = 1.0 }}"
            yield Fault(f"{path}.{axis}_gain", f"{text}; {mend}")


def _drive(raw: Table) -> Iterator[Fault]:
    drive, fans, propellers = table(raw, "drive"), rows(raw, "fans"), rows(raw, "propellers")
    units, blades = table(raw, "fan_units"), table(raw, "propeller_units")
    yield from unknown(drive, "fan", "drive", units, "fan units")
    yield from unknown(drive, "propeller", "drive", blades, "propeller units")
    yield from unknown(drive, "motor", "drive", table(raw, "motors"), "motors")
    yield from unknown(drive, "controller", "drive", table(raw, "controllers"), "controllers")
    yield from _no_load(raw, drive)
    if not fans and not propellers:
        yield from _glider(raw)
    elif "drive" not in raw:
        yield Fault("drive", "is missing; give a table of keys")
    if fans and propellers:
        yield Fault("propellers", "cannot be given beside fans; keep one kind")
    kinds = (("fan", "fans", fans, units), ("propeller", "propellers", propellers, blades))
    for kind, listed, items, known in kinds:
        if items and drive and kind not in drive:
            yield Fault(f"drive.{kind}", f"is missing; say which {kind} unit the drive turns")
        for item in items:
            path = f"{listed}.{item.get('name')}"
            yield from unknown(item, kind, path, known, f"{kind} units")
            if isinstance(item.get(kind), str) and drive.get(kind, item[kind]) != item[kind]:
                text = f"must be the drive's, {drive[kind]!r}; got {item[kind]!r}"
                yield Fault(f"{path}.{kind}", text)
    for fan in fans:
        yield from _nozzle(
            fan, f"fans.{fan.get('name')}.nozzle_mm", table(units, str(fan.get("fan")))
        )


def _glider(raw: Table) -> Iterator[Fault]:
    """Yield a fault where something is told of a motor, but nothing that it turns."""
    told = [key for key in ("drive", "motors", "controllers", "fan_units", "propeller_units")
            if raw.get(key)]  # fmt: skip
    if told:
        text = "is missing; give [[fans]], or [[propellers]]"
        yield Fault("fans", f"{text}; a glider without a motor has no {', '.join(told)} either")
    measured = [key for key in (*OF_POWER, "mah_put_back") if key in table(raw, "measured")]
    if measured and not told:
        text = "has no meaning without a motor; leave it out"
        yield from (Fault(f"measured.{key}", text) for key in measured)


def _no_load(raw: Table, drive: Table) -> Iterator[Fault]:
    motor, controller = str(drive.get("motor")), str(drive.get("controller"))
    idle = number(table(raw, "motors", motor), "no_load_current_a")
    limit = number(table(raw, "controllers", controller), "limit_a")
    if idle is not None and limit is not None and idle >= limit:
        text = f"must be less than limit_a of controller {controller!r}, {limit:g}; got {idle:g}"
        yield Fault(f"motors.{motor}.no_load_current_a", text)


def _nozzle(holder: Table, path: str, unit: Table) -> Iterator[Fault]:
    nozzle = number(holder, "nozzle_mm")
    duct, hub = number(unit, "duct_mm"), number(unit, "hub_mm")
    if nozzle is None or duct is None or hub is None or hub >= duct:
        return
    ring = duct**2 - hub**2
    low, high = ((share / 100.0 * ring) ** 0.5 for share in NOZZLE_SHARES_PCT)
    if duct < nozzle:
        text = f"is wider than the duct, {duct:g} mm; a nozzle must be {low:.0f} to "
        yield Fault(path, f"{text}{min(high, duct):.0f} mm for this fan; got {nozzle:g}")
    elif not low <= nozzle <= high:
        text = f"must be {low:.0f} to {min(high, duct):.0f} mm for this fan's ring; got {nozzle:g}"
        yield Fault(path, text)


def setup_faults(block: Table, path: str, aeroplane: Table, others: Iterable[str]) -> list[Fault]:
    """Return what a set-up asks of an aeroplane that is not there.

    Parameters
    ----------
    block : mapping
        The set-up as written.
    path : str
        Its key path, for the messages.
    aeroplane : mapping
        The parsed aeroplane file.
    others : iterable of str
        Names of set-ups it may start from.
    """
    faults = list(unknown(block, "like", path, others, "set-ups"))
    faults += unknown(block, "pack", path, table(aeroplane, "packs"), "packs")
    channels = table(aeroplane, "channels")
    for name in (throws := table(block, "throws")):
        said, where = table(throws, name), f"{path}.throws.{name}"
        if name in channels:
            faults += whole_faults(aeroplane, name, where)
            faults += travel_faults(aeroplane, name, said, where)
        elif shared_by(channels, name):
            faults += stick_faults(aeroplane, name, said, where)
        else:
            known = [*channels, *shared_sticks(channels)]
            faults += unknown({"throws": name}, "throws", path, known, "channels")
    faults += repeated(rows(block, "loose_weights"), f"{path}.loose_weights")
    faults += _flap(block, path, aeroplane)
    faults += off_the_tray(block, path, aeroplane)
    if "like" not in block:
        faults += _incomplete(block, path, aeroplane)
    if "nozzle_mm" in block and rows(aeroplane, "propellers"):
        faults.append(Fault(f"{path}.nozzle_mm", "has no meaning with a propeller; leave it out"))
    for unit in table(aeroplane, "fan_units").values():
        faults += _nozzle(block, f"{path}.nozzle_mm", unit if isinstance(unit, Mapping) else {})
    if not table(aeroplane, "gyro") and (block.get("gyro") == "on" or "gyro_change" in block):
        faults.append(Fault(f"{path}.gyro", "needs a [gyro] table in the aeroplane; there is none"))
    return faults


def _flap(block: Table, path: str, aeroplane: Table) -> Iterator[Fault]:
    wanted, channels = number(block, "flap_deg"), table(aeroplane, "channels")
    if wanted is None:
        return
    if FLAP not in channels:
        text = f"sets a flap that does not exist: no channel is named {FLAP!r}; channels: "
        text += f"{', '.join(channels)} (give [channels.{FLAP}] and a control with it, or leave "
        yield Fault(f"{path}.flap_deg", f"{text}flap_deg out)")
        return
    own = throws_deg(aeroplane, FLAP, table(block, "throws", FLAP) or table(channels, FLAP))
    up, down = number(own, "up_deg"), number(own, "down_deg")
    if up is not None and down is not None and not -up <= wanted <= down:
        text = f"must lie inside the throws of {FLAP!r}, {up:g} degrees up to {down:g} down"
        yield Fault(f"{path}.flap_deg", f"{text}; got {wanted:g}")


def _incomplete(block: Table, path: str, aeroplane: Table) -> Iterator[Fault]:
    if "pack" not in block:
        listed = ", ".join(table(aeroplane, "packs"))
        yield Fault(f"{path}.pack", f"is missing; packs: {listed} (or start from a set-up by like)")
    if "pack_aft_mm" not in block and "balance_aft_mm" not in block:
        yield Fault(path, "must say where the pack lies: give pack_aft_mm or balance_aft_mm")


def _circles(raw: Table) -> Iterator[Fault]:
    setups = table(raw, "setups")
    for name in setups:
        seen, now = [name], table(setups, name).get("like")
        while isinstance(now, str) and now in setups and now not in seen:
            seen.append(now)
            now = table(setups, now).get("like")
        if now == name:
            chain = " -> ".join([*seen, name])
            yield Fault(f"setups.{name}.like", f"goes in a circle, {chain}; one must stand alone")


def _measured(raw: Table) -> Iterator[Fault]:
    measured, setups = table(raw, "measured"), table(raw, "setups")
    if not measured:
        return
    yield from unknown(measured, "setup", "measured", setups, "set-ups")
    if not any(key in measured for key in OF_MASSES):
        return  # what charger, scale and meter said holds wherever the pack lies
    placed = [name for name in setups if "pack_aft_mm" in table(setups, name)]
    name = measured.get("setup", placed[0] if placed else None)
    if name is None or (name in setups and name not in placed):
        text = "must name a set-up that gives pack_aft_mm, so that the pack's share is known"
        yield Fault("measured.setup", f"{text}; such set-ups: {', '.join(placed) or 'none'}")
