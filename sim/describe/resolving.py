"""From a set-up as written to one in which everything is said."""

from collections.abc import Mapping

from sim.describe.aeroplane import Aeroplane
from sim.describe.controls import Gyro, SaidThrows, Shares, Throws
from sim.describe.cross_checks import setup_faults
from sim.describe.edge_throws import throws_deg
from sim.describe.faults import Fault, FileFault, hint
from sim.describe.plain import Table
from sim.describe.setup import SetUp, SetUpBlock, StudySetUp
from sim.describe.stick_throws import STICKS, shared_by, with_stick

PLACES = {"pack_aft_mm", "balance_aft_mm"}
CHARGED = {
    "mah_put_back",
    "after_minutes",
}  # hold for the pack and nozzle that they were flown with


def resolve_setup(aeroplane: Aeroplane, setup: SetUpBlock | str | None = None) -> SetUp:
    """Fill in a set-up from the ones it starts from and from the aeroplane.

    Parameters
    ----------
    aeroplane : Aeroplane
        Whose packs, channels and set-ups it draws on.
    setup : SetUpBlock, str or None
        A block, the name of one of the aeroplane's, or None for the aeroplane's first.

    Raises
    ------
    FileFault
        If the aeroplane lacks what the set-up names, or the set-up says too little.
    """
    if setup is None:
        setup = aeroplane.first_setup
    if isinstance(setup, str):
        name, block = setup, _named(aeroplane, setup)
    else:
        name, block = setup.name if isinstance(setup, StudySetUp) else "as given", setup
        plain = block.model_dump(exclude_none=True)
        raw = aeroplane.model_dump(exclude_none=True)
        faults = setup_faults(plain, f"setups.{name}", raw, aeroplane.setups)
        if faults:
            raise FileFault(aeroplane.name, faults)
    merged = _merged(aeroplane, block)
    throws, sticks = _throws(aeroplane, merged.get("throws") or {})
    return SetUp(
        name=name,
        title=block.title or name,
        pack=merged["pack"],
        pack_aft_mm=merged.get("pack_aft_mm"),
        balance_aft_mm=merged.get("balance_aft_mm"),
        loose_weights=merged.get("loose_weights", ()),
        throws=throws,
        sticks=sticks,
        flap_deg=merged.get("flap_deg", 0.0),
        nozzle_mm=merged.get("nozzle_mm"),
        gyro=merged.get("gyro", "off"),
        gyro_settings=_gyro(aeroplane, merged),
        duty=merged.get("duty"),
        mah_put_back=merged.get("mah_put_back"),
        after_minutes=merged.get("after_minutes"),
    )


def _named(aeroplane: Aeroplane, name: str) -> SetUpBlock:
    if name not in aeroplane.setups:
        text = f"has no set-up {name!r}; {hint(name, aeroplane.setups, 'set-ups')}"
        raise FileFault(aeroplane.name, [Fault("", text)])
    return aeroplane.setups[name]


def _given(block: SetUpBlock) -> Table:
    keys = set(SetUpBlock.model_fields) - {"title", "like"}
    return {key: value for key in keys if (value := getattr(block, key)) is not None}


def _merged(aeroplane: Aeroplane, block: SetUpBlock) -> Table:
    below = _merged(aeroplane, aeroplane.setups[block.like]) if block.like else {}
    own = _given(block)
    if PLACES & own.keys():
        below = {key: value for key, value in below.items() if key not in PLACES}
    if {"pack", "nozzle_mm"} & own.keys():
        below = {key: value for key, value in below.items() if key not in CHARGED}
    throws: Mapping[str, SaidThrows] = {**below.get("throws", {}), **own.get("throws", {})}
    changes = dict(below.get("gyro_change", {}))
    if "gyro_change" in own:
        changes |= own["gyro_change"].model_dump(exclude_none=True)
    return {**below, **own, "throws": throws, "gyro_change": changes}


def _throws(
    aeroplane: Aeroplane, said: Mapping[str, SaidThrows]
) -> tuple[dict[str, Throws], dict[str, Shares]]:
    """Return the throws of every channel in degrees, and each stick's share of them."""
    out = {
        name: Throws(up_deg=own.up_deg, down_deg=own.down_deg)
        for name, own in aeroplane.channels.items()
    }
    sticks = {
        name: Shares(**{x: getattr(own.stick, x) for x in STICKS})
        for name, own in aeroplane.channels.items()
    }
    parts = {"surfaces", "channels"}
    shape = aeroplane.model_dump(include=parts, exclude_none=True) if said else {}
    for name, throws in said.items():
        told = throws.model_dump(exclude_none=True)
        if name in out:
            out[name] = Throws(**throws_deg(shape, name, told))
            continue
        for channel in shared_by(shape["channels"], name):
            up = throws_deg(shape, channel, told)["up_deg"]
            out[channel], sticks[channel] = with_stick(out[channel], sticks[channel], name, up)
    return out, sticks


def _gyro(aeroplane: Aeroplane, merged: Table) -> Gyro | None:
    if aeroplane.gyro is None:
        return None
    return aeroplane.gyro.model_copy(update=dict(merged["gyro_change"]))
