"""Tables state their source, or are refused."""

import pytest

from sim.describe.reading.headed import HEADER_KEYS, TableFault
from sim.tables.reading import read_csv, read_toml, tables_folder

BIB = "@misc{known2000,\n  title = {A source}\n}\n"
HEADER = {
    "what": "a test",
    "columns": "x, y",
    "units": "1, deg",
    "source": "[known2000] table 1",
    "obtained": "made up",
    "uncertainty": "all of it",
    "licence": "none",
}


def write(folder, header, body="x,y\n1,2\n3,\n", name="t.csv"):
    folder.joinpath("sources.bib").write_text(BIB)
    text = "".join(f"# {key}: {value}\n" for key, value in header.items())
    folder.joinpath(name).write_text(text + body)


def test_a_complete_table_is_read(tmp_path):
    write(tmp_path, HEADER)
    table = read_csv("t.csv", tmp_path)
    assert table.header.source == "[known2000] table 1"
    assert list(table.columns["x"]) == [1.0, 3.0]
    assert table.columns["y"][0] == 2.0
    assert table.columns["y"][1] != table.columns["y"][1]  # blank is NaN


def test_header_lines_continue(tmp_path):
    write(tmp_path, HEADER | {"obtained": "first half\n#   second half"})
    assert read_csv("t.csv", tmp_path).header.obtained == "first half second half"


@pytest.mark.parametrize("key", HEADER_KEYS)
def test_each_header_key_is_needed(tmp_path, key):
    write(tmp_path, {k: v for k, v in HEADER.items() if k != key})
    with pytest.raises(TableFault, match=rf"t\.csv: the header lacks {key}"):
        read_csv("t.csv", tmp_path)


@pytest.mark.parametrize("key", HEADER_KEYS)
def test_an_empty_header_key_is_refused(tmp_path, key):
    write(tmp_path, HEADER | {key: ""})
    with pytest.raises(TableFault, match=rf"t\.csv: the header lacks {key}"):
        read_csv("t.csv", tmp_path)


@pytest.mark.parametrize(
    ("change", "body", "words"),
    [
        ({"source": "[unknown1999]"}, "x,y\n1,2\n", "unknown1999 not defined in sources.bib"),
        ({"source": "somebody said so"}, "x,y\n1,2\n", r"names no \[key\]"),
        ({}, "x,z\n1,2\n", "header says x,y; file has x,z"),
        ({"units": "1"}, "x,y\n1,2\n", "1 units for 2 columns"),
        ({}, "x,y\n1,2\n3\n", "row 2: 1 cells for 2 columns"),
        ({}, "", "file has nothing"),
    ],
)
def test_faults_are_named(tmp_path, change, body, words):
    write(tmp_path, HEADER | change, body)
    with pytest.raises(TableFault, match=words):
        read_csv("t.csv", tmp_path)


def test_toml_is_held_to_the_same(tmp_path):
    write(tmp_path, HEADER, "limit_deg = 3.0\n", "t.toml")
    assert read_toml("t.toml", tmp_path).values["limit_deg"] == 3.0
    write(tmp_path, HEADER, "limit_deg = \n", "bad.toml")
    with pytest.raises(TableFault, match=r"bad\.toml: not valid TOML"):
        read_toml("bad.toml", tmp_path)
    tmp_path.joinpath("bare.toml").write_text("limit_deg = 3.0\n")
    with pytest.raises(TableFault, match="the header lacks what, columns, units"):
        read_toml("bare.toml", tmp_path)


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(TableFault, match=r"none\.csv: no such table"):
        read_csv("none.csv", tmp_path)
    tmp_path.joinpath("t.csv").write_text("".join(f"# {k}: {v}\n" for k, v in HEADER.items()))
    with pytest.raises(TableFault, match=r"sources\.bib: no such file"):
        read_csv("t.csv", tmp_path)


def test_every_table_of_the_folder_is_read():
    names = sorted(path.name for path in tables_folder().iterdir())
    assert "sources.bib" in names
    for name in names:
        if name.endswith(".csv"):
            assert read_csv(name).columns
        elif name.endswith(".toml"):
            assert read_toml(name).values
        else:
            assert name == "sources.bib"
