"""One question of start: its key, what is asked, where the ruler goes, of which kinds, its bounds.

A key ends in its unit; letters are those of the drawings (`sim.start.asking.drawings`). A question
without an answer is refused unless it is optional: then the kind's default is taken.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import get_args

from sim.describe.known import Kind

Answer = float | str | tuple[str, ...]
JETS: tuple[str, ...] = ("fan_jet_strakes", "fan_jet")
ALL: tuple[str, ...] = get_args(Kind)
DELTA = ("delta",)
TAILED = tuple(kind for kind in ALL if kind not in DELTA)
PROPELLERS = tuple(kind for kind in TAILED if kind not in JETS)
FAN, PROPELLER = "fan", "propeller"
AS_KIND = "as usual for the kind"
DRIVEN_BY = "driven_by"
PACKS = "packs"


@dataclass(frozen=True)
class Question:
    """One thing that is asked.

    ``needs`` is a key and the values of its answer with which it is asked (none: any answer).
    ``drive`` is what drives those of whom it is asked (none: either). ``blank`` says what is taken
    where nothing is answered; without it an answer is needed. ``parts`` are the numbers that one
    line takes, one after the other, of which the first ``least`` are needed.
    """

    key: str
    ask: str
    ruler: str
    low: float = 0.0
    high: float = 0.0
    kinds: tuple[str, ...] = ALL
    choices: tuple[str, ...] = ()
    needs: tuple[str, tuple[str, ...]] | None = None
    blank: str = ""
    drive: str = ""
    parts: "tuple[Question, ...]" = ()
    least: int = 2

    @property
    def optional(self) -> bool:
        """Whether it may be left blank."""
        return bool(self.blank)


def length(
    key: str, ask: str, ruler: str, low: float = 0.0, high: float = 5000.0,
    kinds: tuple[str, ...] = ALL, blank: str = "",
    needs: tuple[str, tuple[str, ...]] | None = None, drive: str = "",
) -> Question:  # fmt: skip
    """Return a question for a length [mm]; see `Question`."""
    return Question(key, ask, ruler, low, high, kinds, blank=blank, needs=needs, drive=drive)


def flap(
    what: str, told: str, where: str, kinds: tuple[str, ...] = ALL,
    needs: tuple[str, tuple[str, ...]] | None = None, blank: str = AS_KIND,
    ends: tuple[str, str] = ("inner", "outer"), low: float = 0.0,
) -> Iterator[Question]:  # fmt: skip
    """Yield what is asked of a flap: its width, and of one with a width the rest.

    ``where`` says from where its ends are measured, ``ends`` what they are called; ``low`` [mm] is
    the least that may be answered for where it begins.
    """
    width, wide = f"{what}_width_mm", (f"{what}_width_mm", ())
    first, last = ends
    hinge = "hinge to trailing edge"
    yield length(width, f"{told}: how wide at its {first} end",
                 f"{hinge}, square to the hinge; throws in mm are read there",
                 2, 1000, kinds, blank, needs)  # fmt: skip
    yield length(f"{what}_tip_width_mm", f"{told}: how wide at its {last} end", hinge, 1, 1000,
                 kinds, f"as wide as at its {first} end", wide)  # fmt: skip
    yield length(f"{what}_inner_mm", f"{told}: where its {first} end is", where, low, 5000, kinds,
                 AS_KIND, wide)  # fmt: skip
    yield length(f"{what}_outer_mm", f"{told}: where its {last} end is", where, 5, 5000, kinds,
                 AS_KIND, wide)  # fmt: skip


def placed(
    what: str, told: str, ruler: str, weight: tuple[float, float], place: tuple[float, float],
    blank: str,
) -> Question:  # fmt: skip
    """Return a question for weight [g] and place behind x [mm] of something, in one line."""
    parts = (Question(f"{what}_g", "weight", "", *weight),
             Question(f"{what}_back_mm", "place behind x", "", *place))  # fmt: skip
    return Question(f"{what}_at", told, ruler, blank=blank, parts=parts)


def numbers_in(answer: Answer | None) -> list[float]:
    """Return the numbers of a line that is kept, ``58 g, -130 mm``; none of what was left blank."""
    if not isinstance(answer, str):
        return []
    return [float(one.split()[0]) for one in answer.split(",")]
