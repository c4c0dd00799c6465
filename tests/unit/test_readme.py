"""The README's Python runs, and nothing in it waits to be filled in."""

import ast
import re
from pathlib import Path

import matplotlib as mpl
import pytest

import sim

README = (Path(__file__).parent.parent.parent / "README.md").read_text(encoding="utf-8")


@pytest.fixture
def _headless():
    """Draw without a window, as whoever reads it on a server; leave no figure open."""
    with mpl.rc_context():
        mpl.use("agg")
        from matplotlib import pyplot as plt

        yield
        plt.close("all")


@pytest.mark.usefixtures("_headless")
def test_the_python_of_the_readme_runs(tmp_path, monkeypatch, capsys):
    (code,) = re.findall(r"```python\n(.*?)```", README, flags=re.DOTALL)
    # of what is public alone, which `import sim` finds whatever was imported before
    asked = {
        x.attr
        for x in ast.walk(ast.parse(code))
        if isinstance(x, ast.Attribute) and isinstance(x.value, ast.Name) and x.value.id == "sim"
    }
    assert len(asked) > 10
    assert asked <= set(dir(sim))
    monkeypatch.chdir(tmp_path)
    exec(compile(code, "README.md", "exec"), {"__name__": "__main__"})
    out = capsys.readouterr().out
    assert out.splitlines()[0] == "club balances at 178.0 mm"
    assert any(line.startswith("short period:") for line in out.splitlines())
    assert re.search(r"^178 mm: \d+ of 16, \d+ m\n195 mm: \d+ of 16", out, re.MULTILINE)
    assert (tmp_path / "spin.png").stat().st_size > 10_000


def test_nothing_waits_to_be_filled_in():
    assert not re.search(r"RESULT_HERE|TODO|TBD|XXX", README)
