"""What ``import sim`` shows: one list, cheap to import, every signature known to a type checker."""

import ast
import doctest
import importlib
import re
import subprocess
import sys
from pathlib import Path

import pytest

import sim

ROOT = Path(__file__).parent.parent.parent
EXAMPLES = ("sim", "sim.fly.tunnel.coefficients", "sim.fly.tunnel.forced_oscillation")


def typed_names() -> dict[str, str]:
    """Return name and module of each import that a type checker reads."""
    tree = ast.parse((ROOT / "sim" / "__init__.py").read_text(encoding="utf-8"))
    (block,) = [node for node in tree.body if isinstance(node, ast.If)]
    out = {}
    for node in block.body:
        assert isinstance(node, ast.ImportFrom)
        for alias in node.names:
            assert alias.asname == alias.name  # or a checker takes it for private
            out[alias.name] = node.module
    return out


def test_what_is_shown_is_what_a_type_checker_reads():
    typed = typed_names()
    assert dir(sim) == sorted([*typed, "__version__"])
    for name, module in typed.items():
        assert getattr(sim, name) is getattr(importlib.import_module(module), name)


def test_a_name_that_is_none_is_told():
    with pytest.raises(AttributeError, match="no attribute 'fly_on'"):
        sim.fly_on  # noqa: B018


def test_importing_it_loads_nothing_that_takes_time():
    script = (
        "import sys; import sim; print([m for m in sys.modules if m.startswith('sim.')],"
        " [m for m in ('typing', 'numpy', 'numba', 'pydantic', 'matplotlib') if m in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-S", "-c", script], capture_output=True, text=True, check=True, cwd=ROOT
    )
    assert done.stdout.strip() == "['sim.version'] []"


def test_the_version_is_the_packages():
    assert f'\nversion = "{sim.__version__}"\n' in (ROOT / "pyproject.toml").read_text()


def checked(code: str, folder: Path) -> str:
    """Return what mypy says of a user's file."""
    path = folder / "notebook.py"
    path.write_text(code)
    command = [
        sys.executable, "-m", "mypy", "--config-file", str(ROOT / "pyproject.toml"),
        "--cache-dir", str(ROOT / ".mypy_cache"), str(path),
    ]  # fmt: skip
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)
    assert done.returncode in (0, 1), done.stdout + done.stderr
    return done.stdout


def test_no_signature_hides_a_type(tmp_path):
    code = "import sim\n" + "".join(f"reveal_type(sim.{name})\n" for name in typed_names())
    said = re.findall(r'Revealed type is "(.*)"', checked(code, tmp_path))
    assert len(said) == len(typed_names())
    for name, told in zip(typed_names(), said, strict=True):
        plain = told.replace("tuple[Any, ...]", "")  # what NumPy calls an array of any shape
        if name == "Assembled":  # the kernel's own arrays, which nobody packs by hand
            plain = plain.replace("numpy.dtype[Any]", "")
        assert not re.search(r"\bAny\b", plain), (name, told)


MIXED_UP = """
import sim
jet = sim.assemble(sim.load_aeroplane("display_jet"))
entry, out = sim.load_manoeuvre("spin_entry"), sim.load_recovery("centre_sticks")
reveal_type(sim.fly_one(jet, entry, out).to_columns()["alpha_deg"])
sim.fly_one(jet, out, entry)
sim.fly_on
"""


def test_a_type_checker_tells_a_manoeuvre_from_a_recovery(tmp_path):
    said = checked(MIXED_UP, tmp_path)
    assert "numpy.dtype[numpy.floating[numpy._typing._nbit_base._64Bit]]" in said or (
        "numpy.dtype[numpy.float64]" in said
    )
    assert 'notebook.py:6: error: Argument 2 to "fly_one" has incompatible type "Recovery"' in said
    assert 'notebook.py:6: error: Argument 3 to "fly_one" has incompatible type "Manoeuvre"' in said
    assert 'notebook.py:7: error: Module has no attribute "fly_on"' in said
    assert "Found 3 errors" in said


@pytest.mark.parametrize("module", EXAMPLES)
def test_the_examples_of_the_docstrings_hold(module):
    failed, tried = doctest.testmod(importlib.import_module(module))
    assert tried > 0
    assert failed == 0
