"""Flights to play, for the tests of the viewer: two of one entry, one of another aeroplane."""

from functools import cache

from sim.describe import load_aeroplane, load_manoeuvre, load_recovery
from sim.fly.flying import fly_one
from sim.pack.assemble import assemble
from sim.show.replay.page import replay_section
from sim.show.replay.recording import recording
from sim.show.report.page import page_html

ENTRY_M, FLOOR_M = 120.0, 40.0


@cache
def recordings():
    """Return recordings of the jet as the club flies it, with big throws, and of the trainer."""
    wanted = (
        ("display_jet", "club", "spin_entry"),
        ("display_jet", "big_throws", "spin_entry"),
        ("club_sport", None, "throttle_chop_stall"),
    )
    out = []
    for aeroplane, setup, manoeuvre in wanted:
        flight = fly_one(
            assemble(load_aeroplane(aeroplane), setup),
            load_manoeuvre(manoeuvre),
            load_recovery("rudder_forward"),
        )
        title = f"{aeroplane}, {setup or 'as built'} </script> & more"
        out.append(recording(flight, title, ENTRY_M, FLOOR_M, draw=None))
    return out


def page_of(flights):
    """Return a page with nothing but flights to play."""
    return page_html("Flights", "Flights", "", [replay_section(flights)])
