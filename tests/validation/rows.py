"""One number as published beside ours: the table prints these rows and the tests check them."""

import hashlib
import json
import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, Literal

import numpy as np
import pytest

from tests.samples.sharing import SHARED

Provenance = Literal["published", "library", "computed", "from memory"]
Kind = Literal["independent", "closed form", "given back"]
KINDS: tuple[Kind, ...] = ("independent", "closed form", "given back")
Band = tuple[float, float]


@dataclass(frozen=True)
class Tolerance:
    """How far ours may lie from the published number.

    kind : "absolute" or "relative" to a published number; "at least", below it by no more
    than the size; "band", outside a published pair by no more than the size.
    """

    kind: Literal["absolute", "relative", "at least", "band"]
    size: float


def absolute(size: float) -> Tolerance:
    return Tolerance("absolute", size)


def relative(size: float) -> Tolerance:
    return Tolerance("relative", size)


def at_least(size: float = 0.0) -> Tolerance:
    return Tolerance("at least", size)


def band(size: float = 0.0) -> Tolerance:
    return Tolerance("band", size)


@dataclass(frozen=True)
class Row:
    """A published number and how ours is made.

    Parameters
    ----------
    source : str
        Key of sources.bib.
    where : str
        Table, figure, page or equation in the source, and what else it says of the number.
    quantity : str
        What it is, with its unit; unique in its module.
    published : float or pair of floats
        A pair for a tolerance of kind "band".
    measure : function
        Returns our number, from the product's own code; called when it is asked for.
    tolerance : Tolerance
    provenance : str
        "published": read in the source or in a text that quotes it; "library": printed by
        a general-purpose package; "computed": closed form or independent script; "from
        memory": recalled, unverified unless ``where`` says reproduced.
    reason : str
        Why ours is known to lie outside; empty where it must lie within.
    observed : bool
        The published number was observed: in a tunnel, in flight, on a bench, over many
        aeroplanes, or where ``where`` says so in a computation of the whole flow by others.
    made_from : str
        What of the program was set by the published number: "table: key, key" of
        aero_tables, or "module: function" of the code. Empty if nothing was.
    apart : str
        Why the row is independent although the program cites its source.
    """

    source: str
    where: str
    quantity: str
    published: float | Band
    measure: Callable[[], float]
    tolerance: Tolerance
    provenance: Provenance
    reason: str = ""
    observed: bool = False
    made_from: str = ""
    apart: str = ""

    @property
    def kind(self) -> Kind:
        """What agreement shows: "given back", that a table or constant gives back what it
        was made from; "closed form", that an equation is worked out right; "independent",
        that the program meets what was observed and it was not made from. Independence has
        to be claimed; what was computed has none.
        """
        if self.made_from:
            return "given back"
        seen = self.observed and self.provenance in ("published", "from memory")
        return "independent" if seen else "closed form"

    @cached_property
    def ours(self) -> float:
        return float(self.measure())

    @property
    def difference(self) -> float:
        """Ours less the published number; less the nearer end of a band, 0 inside it."""
        low, high = np.broadcast_to(self.published, 2)
        return self.ours - float(np.clip(self.ours, low, high))

    @property
    def within(self) -> bool:
        kind, size = self.tolerance.kind, self.tolerance.size
        if kind == "at least":
            return bool(self.difference >= -size)
        if kind == "relative":
            size *= float(np.abs(self.published))
        return bool(abs(self.difference) <= size)


def cases(rows: Iterable[Row]) -> list:
    """Return the rows as cases of a test; those known to lie outside are strict failures."""

    def marks(row: Row) -> tuple:
        return (pytest.mark.xfail(strict=True, reason=row.reason),) if row.reason else ()

    # pytest writes letters that are not ASCII as codes
    return [
        pytest.param(row, id=row.quantity.replace("°", "deg"), marks=marks(row)) for row in rows
    ]


def settle(row: Row) -> None:
    """Measure a row, or take its number from whoever of this test run has measured it already.

    Only where nothing is tampered with: the row's own test, and the command that prints all.
    """
    if SHARED not in os.environ:
        return
    name = hashlib.sha256(f"{row.source}\n{row.quantity}".encode()).hexdigest()[:24]
    known = Path(os.environ[SHARED]) / f"row_{name}.json"
    if known.exists():
        row.__dict__["ours"] = json.loads(known.read_text(encoding="utf-8"))
        return
    part = known.with_suffix(f".{os.getpid()}")
    part.write_text(json.dumps(row.ours), encoding="utf-8")
    part.replace(known)


def check(row: Row) -> None:
    """Fail with the numbers in words if a row lies outside its tolerance."""
    settle(row)
    assert row.within, (
        f"{row.quantity}: published {row.published} [{row.source}], ours {row.ours:.6g}, "
        f"allowed {row.tolerance.kind} {row.tolerance.size:g}"
    )


def each(
    source: str,
    where: str,
    values: Iterable[tuple[str, float | Band, Callable[[], float]]],
    tolerance: Tolerance,
    provenance: Provenance,
    reason: str = "",
    **basis: Any,
) -> Iterator[Row]:
    """Yield rows that share everything but quantity, published number and ours.

    ``basis`` is what a row says of its independence: observed, made_from, apart.
    """
    for quantity, published, measure in values:
        yield Row(
            source, where, quantity, published, measure, tolerance, provenance, reason, **basis
        )
