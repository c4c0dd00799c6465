"""Formulas say where they come from, and in which units their quantities are.

A function holds a formula where it multiplies, divides, takes a power or a function such as a
sine, or adds a number. It says its source by a key of sources.bib in square brackets, or by
"own: ", "from memory", "by definition" or "geometry"; its units in square brackets, [-] where
there are none.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from sim.tables.reading import source_keys, tables_folder

SIM = Path(__file__).parents[2] / "sim"
ROOMS = ("aero", "power", "weigh", "spin", "pack", "trim", "fly/tunnel", "judge")
SHARE_CITED = 0.9

BRACKETS = re.compile(r"(?<![\w\])`\"'])\[([^\]\[]+)\]")
KEY = re.compile(r"[a-z][a-z_]*\d{3,}\w*|[a-z_]{5,}")
NO_KEYS = {"degrees", "pixels", "points"}
WORDS = re.compile(r"\bown:\s|from memory|by definition|\bgeometry\b", re.IGNORECASE)
UNITS = {
    "-", "%", "1", "m", "mm", "cm", "dm", "km", "kg", "g", "s", "h", "rad", "deg", "dps", "N", "Pa",
    "Wh", "V", "A", "Ah", "mAh", "ohm", "mohm", "mΩ", "Hz", "rpm", "l", "K", "D", "J", "SI", "W",
}  # fmt: skip
FUNCTIONS = {
    "sin", "cos", "tan", "arcsin", "arccos", "arctan", "arctan2", "asin", "acos", "atan", "atan2",
    "exp", "log", "log10", "sqrt", "hypot", "square", "interp", "trapezoid", "cross", "norm", "dot",
    "outer", "einsum", "solve", "trace", "eigvals", "cumsum",
}  # fmt: skip


def functions(tree: ast.Module) -> Iterator[tuple[str, ast.FunctionDef]]:
    """Yield functions and methods; what stands inside one is its own part."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            yield node.name, node
        if isinstance(node, ast.ClassDef):
            for member in node.body:
                if isinstance(member, ast.FunctionDef):
                    yield f"{node.name}.{member.name}", member


def is_text(node: ast.expr) -> bool:
    """Return True for what is no number: text, and lists that are joined."""
    lists = (ast.JoinedStr, ast.List, ast.ListComp, ast.Tuple, ast.Set)
    return isinstance(node, lists) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def is_formula(node: ast.AST) -> bool:
    """Return True for one step of a calculation."""
    if isinstance(node, ast.Call):
        name = node.func.attr if isinstance(node.func, ast.Attribute) else None
        return (node.func.id if isinstance(node.func, ast.Name) else name) in FUNCTIONS
    if isinstance(node, ast.BinOp):
        sides = [node.left, node.right]
    elif isinstance(node, ast.AugAssign):
        sides = [node.target, node.value]
    else:
        return False
    if any(is_text(side) for side in sides):
        return False
    if isinstance(node.op, ast.Add | ast.Sub):
        return any(isinstance(x, ast.Constant) and isinstance(x.value, float) for x in sides)
    return isinstance(node.op, ast.Mult | ast.Div | ast.Pow | ast.MatMult)


def calculates(function: ast.FunctionDef) -> bool:
    """Return True where a formula stands outside of indices, texts and types."""
    waiting: list[ast.AST] = list(function.body)
    while waiting:
        node = waiting.pop()
        if isinstance(node, ast.JoinedStr | ast.Raise | ast.arguments):
            continue
        if is_formula(node):
            return True
        if isinstance(node, ast.Subscript):
            waiting.append(node.value)
        elif isinstance(node, ast.AnnAssign):
            waiting += [node.value] if node.value else []
        else:
            waiting += ast.iter_child_nodes(node)
    return False


def keys(text: str) -> list[str]:
    """Return what stands in a docstring as the key of a source."""
    return [x for x in BRACKETS.findall(text) if KEY.fullmatch(x) and x not in NO_KEYS]


def cites(text: str) -> bool:
    """Return True where a docstring says a source."""
    return bool(keys(text) or WORDS.search(text))


def states_units(text: str) -> bool:
    """Return True where a docstring has a unit in square brackets."""
    firsts = (re.split(r"[\s/,·]", inside)[0] for inside in BRACKETS.findall(text))
    return any(first.rstrip("²³⁴23^") in UNITS or first in UNITS for first in firsts)


def docstrings(tree: ast.Module) -> Iterator[str]:
    """Yield every docstring of a module."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
            yield ast.get_docstring(node) or ""


def calculating() -> dict[str, str]:
    """Return the docstring of every function of the rooms that holds a formula."""
    found = {}
    for room in ROOMS:
        for path in sorted((SIM / room).rglob("*.py")):
            for name, function in functions(ast.parse(path.read_text(encoding="utf-8"))):
                if calculates(function):
                    where = f"{path.relative_to(SIM).as_posix()}: {name}"
                    found[where] = ast.get_docstring(function) or ""
    return found


def test_every_key_in_a_docstring_is_a_source():
    known = source_keys(tables_folder())
    unknown = [
        f"{path.relative_to(SIM).as_posix()}: [{key}]"
        for path in sorted(SIM.rglob("*.py"))
        for text in docstrings(ast.parse(path.read_text(encoding="utf-8")))
        for key in keys(text)
        if key not in known
    ]
    assert unknown == []


def test_nearly_every_formula_has_a_source():
    found = calculating()
    without = [where for where, text in found.items() if not cites(text)]
    assert len(found) > 250
    assert 1.0 - len(without) / len(found) >= SHARE_CITED, without


def test_every_formula_has_units():
    assert [where for where, text in calculating().items() if not states_units(text)] == []


@pytest.mark.parametrize(
    ("body", "holds"),
    [
        ("return mass * 9.81", True),
        ("return 1.0 - share", True),
        ("return np.sqrt(x)", True),
        ("x /= y", True),
        ("return i + 1", False),
        ("return rows[2 * i : 2 * i + 2]", False),
        ("return 'a' * 3", False),
        ("raise ValueError(f'{100.0 * share} %')", False),
        ("return [None] * 2", False),
    ],
)
def test_what_is_a_formula(body, holds):
    ((_, function),) = functions(ast.parse(f"def f(x: int | None):\n    {body}\n"))
    assert calculates(function) is holds


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Lift [N], [polhamus1966] eq. 3.", ["polhamus1966"]),
        ("As [polhamus1996].", ["polhamus1996"]),
        ("As [raymerr] and `x[other1999]` and [deg].", ["raymerr"]),
        ("A share [0 to 1], [m/s2, 10 rad/s2], [degrees].", []),
    ],
)
def test_what_is_a_key(text, found):
    assert keys(text) == found


@pytest.mark.parametrize(
    ("text", "cited", "units"),
    [
        ("Return lift [N]; by definition.", True, True),
        ("Return its own lift [1/rad].", False, True),
        ("Own: what nobody measured [-].", True, True),
        ("Return lift [polhamus1966].", True, False),
        ("Return rows [first, last].", False, False),
        ("Return area [m²] or [m2] or [mm aft].", False, True),
    ],
)
def test_what_cites_and_what_states_units(text, cited, units):
    assert (cites(text), states_units(text)) == (cited, units)
