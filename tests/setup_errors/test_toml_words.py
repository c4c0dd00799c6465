"""A file that is no TOML is told by its own line, and how to mend it, in a pilot's words."""

import re
import tomllib

import pytest

from sim.describe import FileFault
from sim.describe.reading.files import parse
from sim.describe.reading.toml_words import toml_words
from sim.describe.reading.unquoted import unquoted

ANSWERS = 'schema = "aftlimit.answers/1"'
FILE = 'schema = "aftlimit.aeroplane/1"'


@pytest.mark.parametrize(
    ("head", "wrong", "said"),
    [
        (FILE, "tip_up_mm = 13,5", "use a point: tip_up_mm = 13.5"),
        (FILE, "throws = { up_deg = 32,2, down_deg = 30 }", "use a point: up_deg = 32.2"),
        (ANSWERS, "span_mm = about 1010", "only a number may stand there: span_mm = 1010"),
        (FILE, "span_mm = ~1010", "only a number may stand there: span_mm = 1010"),
        (ANSWERS, "span_mm = 101 cm", 'a number with its unit needs quotes: span_mm = "101 cm"'),
        (ANSWERS, "span_mm = 101,5cm  # tip to tip", 'needs quotes: span_mm = "101.5 cm"'),
        (FILE, "span_mm = 101 cm", "the unit stands in the key: span_cm = 101"),
        (FILE, "span_mm = 101 yards", "only a number may stand there: span_mm = 101"),
        (ANSWERS, "gyro = yes", 'words need quotes, gyro = "yes"'),
        (ANSWERS, "wheels = dont know", "to leave it out put a # before it"),
        (ANSWERS, "span_mm =", "nothing stands after the ="),
        (ANSWERS, "span_mm: 1010", "put = between key and value: span_mm = 1010"),
        (ANSWERS, "span mm = 1010", "a key has no blank in it: span_mm"),
        (ANSWERS, "span_mm", "key = value"),
        (ANSWERS, 'gyro = "yes', 'a closing quote is missing: gyro = "yes"'),
        (ANSWERS, 'gyro = "yes" I', "nothing may stand behind the closing quote; got I"),
        (ANSWERS, "gyro = “yes”", "use straight quotes"),
        (ANSWERS, "span_mm = 1 010", "one number, without gaps: span_mm = 1010"),
        (ANSWERS, "span_mm = 007", "no nought in front: span_mm = 7"),
        (ANSWERS, "span_mm = .5", "a digit before the point: span_mm = 0.5"),
        (ANSWERS, "span_mm = 5.", "a digit after the point: span_mm = 5.0"),
        (ANSWERS, "a_mm = 1\na_mm = 2", "it is given twice in the file"),
        (ANSWERS, 'packs = ["6s 3300" "6s 4200"]', 'a comma is missing after "6s 3300"'),
        (ANSWERS, 'packs = [\n  "6s 3300"\n  "6s 4200",\n]', 'a comma is missing after "6s 3300"'),
        (ANSWERS, 'packs = ["6s 3300"\nspan_mm = 3', 'a ] is missing after "6s 3300"'),
        (ANSWERS, 'packs = ["6s 3300"', 'a ] is missing after "6s 3300"'),
        (ANSWERS, "packs = [6s 3300 535 128, 6s 4000]", 'packs = ["6s 3300 535 128", "6s 4000"]'),
        (ANSWERS, "packs = [6 4000 640 138]", 'stands in quotes: packs = ["6 4000 640 138"]'),
        (ANSWERS, 'packs = ["6s 3300 535, "6s 4000"]', 'packs = ["6s 3300 535", "6s 4000"]'),
        (ANSWERS, 'packs = [6s 3300 535", "6s 4000"]', 'packs = ["6s 3300 535", "6s 4000"]'),
        (ANSWERS, 'packs = ["6s 3300 535]', 'quotes: packs = ["6s 3300 535"]'),
        (ANSWERS, "packs = [6s 3300", 'quotes: packs = ["6s 3300"'),
        (ANSWERS, "packs = [\n  6s 3300,\n  6s 4000,\n]", 'quotes: "6s 3300",'),
        (ANSWERS, "sure_of = [balance_back_mm]", 'sure_of = ["balance_back_mm"]'),
        (FILE, "assumed = [\n  airframe,\n]", 'each text of a list stands in quotes: "airframe",'),
        (FILE, "a_mm = [1 2]", "a comma is missing after 1"),
        (FILE, "a = { up_mm = 16", "a } is missing: a = { up_mm = 16 }"),
        (FILE, "a = { up_mm = 16 down_mm = 9 }", "a comma or a } is missing after 16"),
        (FILE, "[setups.today", "a ] is missing: [setups.today]"),
        (FILE, "[[setups]", "a ] is missing: [[setups]]"),
    ],
)  # fmt: skip
def test_each_slip_has_its_line_its_place_and_its_remedy(tmp_path, head, wrong, said):
    path = tmp_path / "mine.toml"
    path.write_text(f"{head}\n{wrong}\n", encoding="utf-8")
    with pytest.raises(tomllib.TOMLDecodeError) as parser:
        tomllib.loads(path.read_text(encoding="utf-8"))
    with pytest.raises(FileFault) as caught:
        parse(path)
    told = str(caught.value)
    assert re.match(r"mine\.toml: line \d, column \d+, reads  .*  and is not valid TOML: ", told)
    place = re.search(r"at line (\d+), column (\d+)", str(parser.value))
    if place is not None:
        assert f"line {place[1]}, column {place[2]}," in told
    assert said in told


@pytest.mark.parametrize("wrong", ["a = \x1b[31m5 x", "\x00", "a = [" * 40, "=" * 3000, '"' * 99])
def test_what_no_one_wrote_is_told_in_one_plain_line(tmp_path, wrong):
    path = tmp_path / "mine.toml"
    path.write_text(wrong, encoding="utf-8")
    with pytest.raises(FileFault) as caught:
        parse(path)
    told = str(caught.value)
    assert told.isprintable()
    assert len(told) < 400


@pytest.mark.parametrize("wrong", ["a_mm = 13,5", "a_mm = 101 cm", "a_mm = 1'010", "a_mm = ca. 7"])
def test_a_remedy_is_itself_what_can_be_read(wrong):
    with pytest.raises(tomllib.TOMLDecodeError) as parser:
        tomllib.loads(wrong)
    remedy = toml_words(wrong, parser.value).rpartition(": ")[2]
    ((key, value),) = tomllib.loads(remedy).items()
    assert key.startswith("a_")
    assert isinstance(value, int | float)


@pytest.mark.parametrize(
    "line", ["a = [1, 2.5, -3e2]", 'a = ["x", "y"]', "a = [true, nan]", "a = [[1, 2]]", "a = 5 x"]
)
def test_a_list_that_has_its_quotes_is_not_told_to_lack_them(line):
    assert unquoted(line, [], texts=True) is None


def test_a_line_inside_a_list_is_told_only_where_the_list_is_still_open():
    assert unquoted("6s 3300", ["packs = ["], texts=True) is not None
    assert unquoted("6s 3300", ['packs = ["6s 3300"]'], texts=True) is None
