"""The file of all questions: what is forgotten is told, and its examples are answers that hold."""

import re

import pytest

from sim.cli import main
from sim.describe import FileFault, load_aeroplane
from sim.start.asking.answers import answers_from
from sim.start.asking.asked import asked
from sim.start.asking.questions import KEYS, QUESTIONS
from sim.start.asking.template import template_text


def filled(kind, skip=()):
    """Return the template with the # taken away before all that a kind asks."""
    lines = template_text().replace('kind = "fan_jet_strakes"', f'kind = "{kind}"').split("\n")
    out, answers = [], {"kind": kind}
    by_key = {}
    for q in QUESTIONS:
        by_key.setdefault(q.key, []).append(q)
    for line in lines:
        found = re.fullmatch(r"# (\w+) = (.*)", line)
        if not found:
            out.append(line)
            continue
        key, value = found[1], found[2].strip('"')
        if key not in skip and any(asked(q, answers | {"packs": ("a", "b")}) for q in by_key[key]):
            answers[key] = value
            out.append(line[2:])
    return "\n".join(out)


def test_every_question_stands_in_it_once():
    keys = re.findall(r"^# (\w+) = ", template_text(), flags=re.MULTILINE)
    assert sorted(keys) == sorted(KEYS)


def test_as_it_is_everything_is_missing(tmp_path):
    path = tmp_path / "blank.toml"
    path.write_text(template_text())
    with pytest.raises(FileFault, match="kind"):
        answers_from(path)


@pytest.mark.parametrize("kind", ["fan_jet_strakes", "fan_jet", "delta", "propeller_sport"])
def test_its_examples_are_answers_that_hold(tmp_path, kind):
    path = tmp_path / "mine.toml"
    path.write_text(filled(kind))
    answers, _ = answers_from(path)
    assert answers["kind"] == kind


def test_a_forgotten_answer_is_named_with_its_ruler(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(filled("fan_jet_strakes", skip=("tail_span_mm",)))
    with pytest.raises(FileFault, match=r"tail_span_mm.*is missing.*G: tip to tip"):
        answers_from(path)


def test_the_command_writes_it_and_never_over_a_file(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["start", "--template", "blank.toml"]) == 0
    assert (tmp_path / "blank.toml").read_text() == template_text()
    # the very next command, ready to be typed
    last = capsys.readouterr().out.splitlines()[-1].split()
    assert last == ["aftlimit", "start", "my_plane", "--from", "blank.toml"]
    assert main(["start", "--template", "blank.toml"]) == 2
    assert "is there already" in capsys.readouterr().err
    assert main(["start", "--template"]) == 0
    assert (tmp_path / "answers.toml").read_text() == template_text()
    assert "aftlimit start my_plane --from answers.toml" in capsys.readouterr().out
    assert main(["start"]) == 2
    assert "--template" in capsys.readouterr().err


# common practice, no source: a trainer's flat-bottomed wing is cambered, a symmetrical one is not
@pytest.mark.parametrize(
    ("seen", "camber"),
    [("symmetrical", 0.0), ("semi_symmetrical", 2.0), ("flat_bottom", 3.5), ("flat_plate", 0.0)],
)
def test_the_look_of_the_section_gives_its_camber(tmp_path, monkeypatch, seen, camber):
    monkeypatch.chdir(tmp_path)
    text = filled("propeller_sport").replace('wing_section = "flat_bottom"',
                                             f'wing_section = "{seen}"')  # fmt: skip
    (tmp_path / "mine.toml").write_text(text)
    assert main(["start", "mine", "--from", "mine.toml", "--no-sketch"]) == 0
    wing = next(x for x in load_aeroplane(tmp_path / "mine" / "mine.toml").surfaces
                if x.role == "wing")  # fmt: skip
    assert wing.section.camber_pct == camber
