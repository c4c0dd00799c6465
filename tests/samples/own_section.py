"""An aeroplane file that names a section table beside it, as a pilot would write them."""

from sim.describe import Aeroplane, data_folder, load_aeroplane
from sim.tables.reading import read_csv

HEADER = """# what: lift and drag of the NACA 0015, one Reynolds number
# columns: Re, alpha_deg, CL, CD
# units: 1, deg, 1, 1
# source: R. E. Sheldahl, P. C. Klimas, SAND80-2114 (1981), tables of the NACA 0015
# obtained: retyped
# uncertainty: 15 % in maximum lift
# licence: public domain
"""
WRITTEN = 'section = { thickness_pct = 15.0, camber_pct = 2.0, edge = "round" }'
NAMED = 'section = { thickness_pct = 15.0, edge = "round", table = "polar.csv" }'


def polar(lowest=0.0, highest=20.0) -> str:
    """Return the text of a section table: what SAND80-2114 prints for Re 360,000."""
    columns = read_csv("naca0015_sand80-2114.csv").columns
    rows = zip(*(columns[name] for name in ("Re", "alpha_deg", "CL", "CD")), strict=True)
    wanted = [row for row in rows if row[0] == 360000.0 and lowest <= row[1] <= highest]
    return HEADER + "\n".join(["Re,alpha_deg,CL,CD", *(f"{r:g},{a:g},{cl},{cd}"
                                                      for r, a, cl, cd in wanted)])  # fmt: skip


def write_own(folder, text=None, section=NAMED):
    """Write the club's trainer with a wing of that section, and its table; return the path."""
    source = data_folder("scenarios") / "aeroplanes" / "club_sport.toml"
    good = source.read_text(encoding="utf-8")
    assert WRITTEN in good
    path = folder / "mine.toml"
    path.write_text(good.replace(WRITTEN, section).replace('"club_sport"', '"mine"'))
    (folder / "polar.csv").write_text(polar() if text is None else text)
    return path


def own_aeroplane(folder) -> Aeroplane:
    """Return the club's trainer with the NACA 0015's table on its wing."""
    return load_aeroplane(write_own(folder))
