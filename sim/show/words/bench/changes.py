"""What set-ups are made of besides pack and place, in words."""

from collections.abc import Callable, Sequence

from sim.study.results.result import StudyResult
from sim.study.results.set_up import SetUpResult
from sim.units.quantities import MASS, SPEED

# what may differ between set-ups besides pack and place: heading, and its words
KINDS: tuple[tuple[str, Callable[[SetUpResult], str]], ...] = (
    ("loose weights", lambda x: x.weights),
    ("throws, up/down", lambda x: x.throws),
    ("nozzle", lambda x: x.nozzle),
    ("gyro", lambda x: x.gyro),
)


def added_words(setup: SetUpResult) -> str:
    """Return what a balance point needs besides the loose weights; empty where nothing."""
    return ", ".join(f"{MASS(grams)} at the {place}" for place, grams in setup.added_weights)


def weights_of(setup: SetUpResult) -> str:
    """Return loose and added weights together, so that neither is taken for all."""
    added = added_words(setup)
    if not added:
        return setup.weights
    return (
        f"for balance {added}"
        if setup.weights == "no loose weights"
        else (f"{setup.weights}; for balance {added}")
    )


def weight_note(result: StudyResult) -> str:
    """Return at what speed the neutral points and margins of a study's set-ups are told."""
    speed = SPEED(result.setups[0].trim.speed_mps)
    return f"Neutral point, margin and stall: nominal, stick fixed; the first two level at {speed}."


def differing(setups: Sequence[SetUpResult]) -> tuple[list[str], dict[str, list[str]]]:
    """Return what is the same in all set-ups, in words, and by heading what differs, in order."""
    same, apart = [], {}
    for heading, words in KINDS:
        each = [weights_of(x) if heading == "loose weights" else words(x) for x in setups]
        if len(set(each)) == 1:
            same.append(each[0])
        else:
            apart[heading] = each
    return same, apart
