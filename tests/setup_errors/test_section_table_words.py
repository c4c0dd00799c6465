"""The words a user sees for each kind of slip in a section table that an aeroplane names."""

import pytest

from sim.describe import FileFault, load_aeroplane, load_study_files
from sim.pack.assemble import assemble
from tests.samples.own_section import NAMED, polar, write_own

AT = "mine.toml: surfaces.wing.section.table: "
FILE = AT + "'polar.csv': "
GOOD = polar()
ROWS = GOOD.splitlines()

SLIPS = {
    "too few angles": (
        "\n".join(ROWS[:11]),
        FILE + "needs at least 6 angles at Re 360000; got 3",
    ),
    "not as far as any stall": (
        polar(highest=6.0),
        FILE + "alpha_deg must begin at 0 or below and reach 8 at least, within -180 to 180 at Re "
        "360000; got 0 to 6",
    ),
    "ends before the stall": (
        polar(highest=10.0),
        FILE + "must reach past the stall at Re 360000: lift is greatest, 0.944, at the last "
        "angle, 10",
    ),
    "not ascending": (
        "\n".join([*ROWS[:10], ROWS[11], ROWS[10], *ROWS[12:]]),
        FILE + "alpha_deg must rise from row to row at Re 360000; 2 comes after 3",
    ),
    "misspelt column": (
        GOOD.replace("alpha_deg", "alfa_deg"),
        FILE + "has columns that no section table has, alfa_deg; did you mean 'alpha_deg'? "
        "columns: alpha_deg, CL, CD, CN, CC, CM, Re",
    ),
    "columns of two kinds": (
        GOOD.replace("CD", "CN"),
        FILE + "needs the columns CL and CD, or CN and CC, and not of both; got Re, alpha_deg, "
        "CL, CN",
    ),
    "not a number": (
        GOOD.replace("0.0091", "low"),
        FILE + "row 1: CD must be a number; got 'low'",
    ),
    "no header": (
        GOOD.replace("# units: 1, deg, 1, 1\n", ""),
        FILE + "the header lacks units; the file must begin with comment lines '# key: value' for "
        "what, columns, units, source, obtained, uncertainty, licence",
    ),
}


def words(path):
    with pytest.raises(FileFault) as told:
        load_aeroplane(path)
    return str(told.value)


@pytest.mark.parametrize("name", SLIPS)
def test_slips_in_the_table(tmp_path, name):
    text, said = SLIPS[name]
    assert words(write_own(tmp_path, text)) == said


def test_a_missing_file_says_what_is_there(tmp_path):
    path = write_own(tmp_path, section=NAMED.replace("polar.csv", "poler.csv"))
    assert words(path) == (
        AT + "'poler.csv': is neither beside the aeroplane's file nor in aero_tables; did you "
        "mean 'polar.csv'? CSV files beside it: polar.csv"
    )


def test_a_name_without_quotes_and_a_cambered_half(tmp_path):
    path = write_own(tmp_path, section=NAMED.replace('"polar.csv"', "15"))
    assert words(path) == AT + "must be the name of a CSV file, in quotes; got 15"
    path = write_own(tmp_path, section=NAMED.replace("edge", "camber_pct = 2.0, edge"))
    assert words(path) == (
        FILE + "needs angles below 0 too: a section of camber_pct = 2 is not its own mirror"
    )


def test_what_is_no_wing_section_is_told(tmp_path):
    path = write_own(tmp_path)
    text = path.read_text()
    fin = text.index('name = "fin"')
    plain = 'edge = "round" }'
    named = text[:fin] + text[fin:].replace(plain, 'edge = "round", table = "polar.csv" }', 1)
    path.write_text(named)
    assert words(path) == (
        "mine.toml: surfaces.fin.section.table: has no effect: only what lies, without "
        "leading-edge vortices, has a section's coefficients; leave it out"
    )
    path.write_text(text.replace("panel_span_mm = 702.0", "panel_span_mm = 202.0"))
    with pytest.raises(FileFault, match=r"has no effect: at aspect ratio 1\.68") as told:
        assemble(load_aeroplane(path), None)
    assert str(told.value).startswith("mine.toml: surfaces.wing.section.table: ")


def test_a_study_keeps_the_table_among_its_files(tmp_path):
    write_own(tmp_path)
    study = tmp_path / "try.toml"
    study.write_text(
        'schema = "aftlimit.study/1"\nname = "try"\ntitle = "t"\nstory = "s"\nseed = 1\n'
        'aeroplane = "mine"\ncases = [{ manoeuvre = "throttle_chop_stall", '
        'recoveries = ["centre_sticks"] }]\n'
        '[[setups]]\nname = "as_built"\nlike = "club"\n'
    )
    assert tmp_path / "polar.csv" in load_study_files(study).paths
