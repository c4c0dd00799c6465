"""The table of agreement: what the departure criteria say, and what was flown."""

from collections.abc import Sequence

from sim.show.console.console import Tables, add, notes, paragraph, table
from sim.show.words.phrases import limits_text, spoken
from sim.study.checks.agreement import Agreement

ANSWERS = {True: "yes", False: "no", None: "cannot be told"}
FLOWN = {True: "departs", False: "holds", None: "half and half"}
NOTES = (
    "At the stall, beyond it: signs of Cn_beta,dyn and of the roll that ailerons bring, at the "
    "stall and from there on. Expected to depart if either is against it anywhere.",
    "Departed: of the resolved flights, with 95 % limits; agreement counts more than half. The "
    "criteria speak of sideslip and ailerons only: a manoeuvre that holds rudder into a turn, or "
    "never goes beyond the stall, may well not agree.",
)


def agreement_tables(rows: Sequence[Agreement]) -> Tables:
    """Return the table of agreement; rows of one set-up stand together."""
    if not rows:
        return [paragraph("")]
    out = table(
        "Departure criteria against flights",
        "set-up", "at the stall", "beyond it", "manoeuvre", "flown", "departed", "agree", left=5,
    )  # fmt: skip
    last = ""
    for row in rows:
        new = row.setup != last
        last = row.setup
        told = (
            row.setup, str(row.at_stall.value), f"to {row.to_deg:.0f} deg: {row.beyond.value}"
        ) if new else ("", "", "")  # fmt: skip
        share = f"{row.departed}/{row.flights}\n{limits_text(row.low, row.high)}"
        add(out, *told, spoken(row.manoeuvre), FLOWN[row.mostly_departed], share,
            ANSWERS[row.agree])  # fmt: skip
    return [out, *notes(NOTES)]
