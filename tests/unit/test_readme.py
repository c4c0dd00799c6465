"""The README's Python runs, and nothing in it waits to be filled in."""

import os
import re
import subprocess
import sys
from pathlib import Path

README = (Path(__file__).parent.parent.parent / "README.md").read_text(encoding="utf-8")


def test_the_python_of_the_readme_runs(tmp_path):
    (code,) = re.findall(r"```python\n(.*?)```", README, flags=re.DOTALL)
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=tmp_path, check=False,
        env={**os.environ, "MPLBACKEND": "agg"},
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    said = done.stdout.splitlines()
    assert said[0] == "club balances at 178.0 mm"
    assert any(line.startswith("short period:") for line in said)
    assert re.search(r"^178 mm: \d+ of 16, \d+ m\n195 mm: \d+ of 16", done.stdout, re.MULTILINE)
    assert (tmp_path / "spin.png").stat().st_size > 10_000


def test_nothing_waits_to_be_filled_in():
    assert not re.search(r"RESULT_HERE|TODO|TBD|XXX", README)
