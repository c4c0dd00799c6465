"""A number that may be nought is never asked whether it is there by its truth.

``aft_mm or -1e9`` takes a limit at exactly 0 mm, the datum itself, for none. The code says by the
names of its numbers which they are: they end in their unit.
"""

import ast
import re
from pathlib import Path

import pytest

import sim
from sim.landing.forward import ForwardLimit
from sim.show.figures.balance_scale import limits_of

HOME = Path(sim.__file__).parent
UNITS = (
    "mm", "m", "g", "kg", "s", "min", "deg", "rad", "dps", "rps", "mps", "pct", "a", "v", "w", "n",
    "c", "mah", "hz", "rpm",
)  # fmt: skip
UNIT_NAME = re.compile(rf"[A-Za-z]\w*_({'|'.join(UNITS)})$")
# nought says none as well: no flap, no integral, no gust, nothing short
NOUGHT_IS_NONE = {"flap_deg", "gust_mps", "side_gust_mps", "short_mm", "electrical_power_w",
                  "shaft_power_w", "over_g", "over_mps", "hold_per_s"}  # fmt: skip
# what its model demands to be above nought
ABOVE_NOUGHT = {"nozzle_mm", "pack_v"}
NO_NUMBERS = {"deflections_deg"}


def named(node: ast.AST) -> str:
    """Return the last name of a plain value such as ``limit.aft_mm``; empty of anything else."""
    name = node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")
    known = NOUGHT_IS_NONE | ABOVE_NOUGHT | NO_NUMBERS
    return name if UNIT_NAME.match(name) and name not in known else ""


def is_nought(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and node.value == 0


def asked(tree: ast.AST):
    """Yield line and name of each number whose truth is asked."""
    for node in ast.walk(tree):
        tested: list[ast.AST] = []
        if isinstance(node, ast.If | ast.IfExp | ast.While):
            tested = [node.test]
        elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
            tested = [node.operand]
        elif isinstance(node, ast.comprehension):
            tested = list(node.ifs)
        elif isinstance(node, ast.BoolOp):
            # 0 for None is what a sum takes
            alike = isinstance(node.op, ast.Or) and is_nought(node.values[-1])
            tested = [] if alike else node.values[:-1]
        yield from ((x.lineno, named(x)) for x in tested if named(x))


def test_a_number_asked_for_its_truth_is_found():
    wrong = "a = x.aft_mm or -1e9\nif low_m: pass\nb = 1 if not t_s else 2\n[c for c in d if c.u_g]"
    assert len(list(asked(ast.parse(wrong)))) == 4
    right = "a = x.aft_mm or 0.0\nif low_m is None: pass\nif names: pass\nb = flap_deg or 1"
    assert list(asked(ast.parse(right))) == []


def test_no_number_of_the_program_is_asked_for_its_truth():
    found = [
        f"{path.relative_to(HOME)}:{line}: {name}"
        for path in sorted(HOME.rglob("*.py"))
        for line, name in asked(ast.parse(path.read_text(encoding="utf-8")))
    ]
    assert found == []


@pytest.mark.parametrize("ending", ["*.js", "*.html"])
def test_no_number_of_a_page_is_asked_for_its_truth(ending):
    unit = rf"[\w.\[\]]*_({'|'.join(UNITS)})"
    patterns = (
        rf"{unit}\s*(\|\||\?(?!\.)|&&)\s*(?!0\b)",  # x_m || y, x_m ? y, x_m && y
        rf"[(!]{unit}\s*\)",  # if (x_m), !x_m
        rf"{{% if {unit} %}}|{unit} or |{unit} and |default\(",  # a template's
    )
    found = [
        f"{path.name}: {match[0]}"
        for path in sorted(HOME.rglob(ending))
        for pattern in (patterns[:2] if ending == "*.js" else patterns[2:])
        for match in re.finditer(pattern, path.read_text(encoding="utf-8"))
        if not match[0].startswith("(")  # an argument of a call
    ]  # fmt: skip
    assert found == []


def test_an_end_at_the_datum_itself_is_drawn_there():
    def found(low, place, high):
        return ForwardLimit(place, low, high, 5.0, place, (), 256, 95.0, 0.0, ())

    assert limits_of(found(0.0, 20.0, 31.0), 20.0) == (0.0, 31.0)
    assert limits_of(found(-12.0, -9.0, 0.0), -9.0) == (-12.0, 0.0)
    assert limits_of(found(None, 7.0, None), 7.0) == (7.0, 7.0)
