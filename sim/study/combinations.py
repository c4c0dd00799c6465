"""What set-ups share and differ in: throws, nozzle, gyro and loose weights, apart from balance.

An aft limit belongs to one pack with one such combination, and to no other.
"""

import hashlib
from dataclasses import dataclass

from sim.describe import Aeroplane, SetUp, Study, StudyFiles, resolve_setup
from sim.describe.study import AftLimit
from sim.study.throws_told import throws_words
from sim.units.quantities import LENGTH, MASS

GYRO_ON = "gyro on"  # how the words of a gyro that is on begin


@dataclass(frozen=True)
class Combination:
    """Throws, nozzle, gyro and loose weights, with the set-ups of a study that have them.

    ``setup`` is one set-up with this combination, for all but pack and balance; ``like``
    the name it goes by; ``setups`` all of the study's with it; ``words`` what it is.
    """

    setup: SetUp
    like: str
    setups: tuple[str, ...]
    words: str


def gyro_words(setup: SetUp) -> str:
    """Return the gyro of a set-up in words: its gains [deg per deg/s] where it is on."""
    if setup.gyro_settings is None:
        return "no gyro"
    if setup.gyro == "off":
        return "gyro off"
    gyro = setup.gyro_settings
    gains = (("roll", gyro.roll_gain), ("pitch", gyro.pitch_gain), ("yaw", gyro.yaw_gain))
    text = " ".join(f"{name} {gain:g}" for name, gain in gains if gain)
    return f"{GYRO_ON}, {gyro.mode} ({text or 'no gain'})"


def nozzle_words(setup: SetUp) -> str:
    """Return the nozzle of a set-up in words."""
    return (
        "nozzle as built" if setup.nozzle_mm is None else f"nozzle {LENGTH(setup.nozzle_mm, 'g')}"
    )


def weights_words(setup: SetUp) -> str:
    """Return the loose weights of a set-up in words, each with its place [mm aft]."""
    parts = [
        f"{w.name} {MASS(w.mass_g, 'g')} at {LENGTH(w.aft_mm, 'g')}" for w in setup.loose_weights
    ]
    return " + ".join(parts) if parts else "no loose weights"


def combination_words(setup: SetUp, aeroplane: Aeroplane) -> str:
    """Return throws, nozzle, gyro and loose weights in one line."""
    nozzle = () if setup.nozzle_mm is None else (nozzle_words(setup),)
    throws = throws_words(setup, aeroplane)
    return "; ".join((gyro_words(setup), weights_words(setup), throws, *nozzle))


def same_combination(one: SetUp, two: SetUp) -> bool:
    """Return True if two set-ups differ in pack and balance at most."""
    return combination_key(one) == combination_key(two)


def combination_key(setup: SetUp) -> str:
    """Return eight hex digits over throws, nozzle, gyro and loose weights of a set-up."""
    gone = {"name", "title", "pack", "pack_aft_mm", "balance_aft_mm"}
    if setup.gyro == "off":
        gone.add("gyro_settings")
    if setup.flap_deg == 0.0:
        gone.add("flap_deg")
    said = setup.model_dump_json(exclude=gone)
    return hashlib.sha256(said.encode()).hexdigest()[:8]


def named_setup(aeroplane: Aeroplane, study: Study, name: str) -> SetUp:
    """Return a set-up of the study, or of the aeroplane, by its name, with everything said."""
    block = next((x for x in study.setups if x.name == name), None)
    return resolve_setup(aeroplane, block if block is not None else name)


def own_setup(files: StudyFiles, name: str) -> SetUp:
    """Return a set-up of a study with everything said."""
    return resolve_setup(files.aeroplane, next(x for x in files.study.setups if x.name == name))


def searches(aeroplane: Aeroplane, study: Study) -> list[tuple[str, Combination]]:
    """Return each pack and combination whose aft limit the study asks for.

    With ``like`` every pack is searched in the one combination it names. Without, each
    combination that set-ups have is searched with the packs they fly it with; a pack
    named that no set-up flies, in every combination. What ``also`` names comes last, each
    with the pack it flies.
    """
    wish = study.aft_limit
    if wish is None:
        return []
    out = _asked_for(aeroplane, study, wish)
    flown = _flown(aeroplane, study)
    for name in wish.also:
        setup = named_setup(aeroplane, study, name)
        known = (c for pack, c in out if pack == setup.pack)
        if not any(same_combination(setup, c.setup) for c in known):
            out.append((setup.pack, _combination(aeroplane, setup, name, flown)))
    return out


def _flown(aeroplane: Aeroplane, study: Study) -> list[tuple[str, SetUp]]:
    return [(x.name, resolve_setup(aeroplane, x)) for x in study.setups]


def _asked_for(aeroplane: Aeroplane, study: Study, wish: AftLimit) -> list[tuple[str, Combination]]:
    """Return what is searched by ``like``, or by the set-ups of the study."""
    flown = _flown(aeroplane, study)
    if wish.like is not None or not flown:
        like = wish.like or aeroplane.first_setup
        setup = named_setup(aeroplane, study, like)
        combinations = [_combination(aeroplane, setup, like, flown)]
    else:
        combinations = []
        for name, setup in flown:
            if not any(same_combination(setup, known.setup) for known in combinations):
                combinations.append(_combination(aeroplane, setup, name, flown))
    packs = wish.packs or tuple(dict.fromkeys(setup.pack for _, setup in flown))
    out = []
    for pack in packs:
        fits = [c for c in combinations if _flies(flown, c, pack)]
        out += [(pack, c) for c in (combinations if wish.like is not None or not fits else fits)]
    return out


def _combination(
    aeroplane: Aeroplane, setup: SetUp, like: str, flown: list[tuple[str, SetUp]]
) -> Combination:
    having = tuple(name for name, x in flown if same_combination(x, setup))
    return Combination(setup, like, having, combination_words(setup, aeroplane))


def _flies(flown: list[tuple[str, SetUp]], combination: Combination, pack: str) -> bool:
    return any(name in combination.setups and x.pack == pack for name, x in flown)
