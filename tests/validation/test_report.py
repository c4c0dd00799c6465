"""The command that prints the rows, and what holds for all of them."""

import json
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

from tests.validation import __main__ as command
from tests.validation.printing import ascii_only
from tests.validation.rows import Row, absolute, at_least, band, cases, relative
from tests.validation.sources import own, products

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    """What ``python -m tests.validation`` prints without Unicode, and what it writes."""
    path = tmp_path_factory.mktemp("validation") / "rows.json"
    done = subprocess.run(
        [sys.executable, "-X", "utf8=0", "-m", "tests.validation", "--json", str(path)],
        cwd=ROOT, capture_output=True, text=True, check=False, timeout=600,
        env={**os.environ, "PYTHONIOENCODING": "ascii"},
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout, json.loads(path.read_text(encoding="utf-8"))


def test_the_record(printed):
    _, record = printed
    assert record["schema"] == command.SCHEMA
    assert record["version"]
    rows = record["rows"]
    assert len(rows) >= 80
    assert Counter(row["provenance"] for row in rows)["published"] >= 25
    needed = {
        "source", "quantity", "published", "ours", "tolerance", "within", "provenance", "kind",
        "made_from", "independent_because",
    }  # fmt: skip
    assert all(needed <= row.keys() for row in rows)
    for row in rows:
        assert (row["kind"] == "given back") == bool(row["made_from"])
    for kind, count in record["counts"].items():
        mine = [row["within"] for row in rows if row["kind"].replace(" ", "_") == kind]
        assert count == {"within": sum(mine), "total": len(mine)}
    assert sum(count["total"] for count in record["counts"].values()) == len(rows)


def test_the_readme_gives_the_honest_count(printed):
    _, record = printed
    # those of the fighter are there only where its data lie beside the repository
    rows = [r for r in record["rows"] if not r["quantity"].startswith("light fighter")]
    words = " ".join((ROOT / "README.md").read_text(encoding="utf-8").split())
    for kind, text in (
        ("independent", "**{within} of {total} independent rows lie within their tolerance**"),
        ("closed form", "{within} of {total} closed forms"),
        ("given back", "{within} of {total} rows given back"),
    ):
        found = [bool(r["within"]) for r in rows if r["kind"] == kind]
        assert text.format(within=sum(found), total=len(found)) in words


def test_a_row_is_outside_if_and_only_if_its_reason_is_known(printed):
    _, record = printed
    assert [r["quantity"] for r in record["rows"] if r["within"] == bool(r["reason"])] == []


def test_the_table(printed):
    text, record = printed
    assert text.isascii()
    assert max(len(line) for line in text.splitlines()) <= 100
    failing = [row for row in record["rows"] if not row["within"]]
    assert text.count(" NO [") == len(failing) > 0
    words = " ".join(text.split())
    for reason in {ascii_only(row["reason"]) for row in failing}:
        assert " ".join(reason.split()) in words
    of = record["counts"]
    assert (
        "Independent rows within tolerance: {within} of {total}.".format(**of["independent"])
        in words
    )
    assert "(=): {within} of {total}.".format(**of["closed_form"]) in words
    assert "(+): {within} of {total}.".format(**of["given_back"]) in words


def test_every_source_is_defined_and_only_once():
    assert not own().keys() & products().keys()
    known = own().keys() | products().keys()
    rows = command.all_rows()
    assert {row.source for row in rows} <= known
    assert own().keys() <= {row.source for row in rows}
    twice = [name for name, n in Counter((r.source, r.quantity) for r in rows).items() if n > 1]
    assert twice == []


def row(published, ours, tolerance, reason=""):
    return Row("closed_form", "", "x", published, lambda: ours, tolerance, "computed", reason)


@pytest.mark.parametrize(
    ("published", "ours", "tolerance", "within"),
    [
        (2.0, 2.1, absolute(0.11), True),
        (2.0, 2.2, absolute(0.11), False),
        (-2.0, -2.1, relative(0.06), True),
        (-2.0, -2.1, relative(0.04), False),
        (2.0, 9.0, at_least(), True),
        (2.0, 1.9, at_least(), False),
        (2.0, 1.9, at_least(0.2), True),
        ((1.0, 2.0), 1.5, band(), True),
        ((1.0, 2.0), 2.1, band(), False),
        ((1.0, 2.0), 2.1, band(0.2), True),
        (2.0, float("nan"), absolute(1.0), False),
        ((1.0, 2.0), float("nan"), band(0.2), False),
    ],
)
def test_tolerances(published, ours, tolerance, within):
    assert row(published, ours, tolerance).within is within


def test_a_row_outside_is_a_strict_failure_with_its_reason():
    (case,) = cases([row(1.0, 3.0, absolute(0.1), "because")])
    (mark,) = case.marks
    assert mark.name == "xfail"
    assert mark.kwargs == {"strict": True, "reason": "because"}
    (case,) = cases([row(1.0, 1.0, absolute(0.1))])
    assert case.marks == ()


def test_an_unexplained_row_is_said_and_fails(capsys, monkeypatch):
    monkeypatch.setattr(command, "all_rows", lambda: [row(1.0, 3.0, absolute(0.1))])
    assert command.main([]) == 1
    assert "this must be mended" in capsys.readouterr().out
