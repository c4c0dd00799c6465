"""Units that stay with their numbers when lines are broken."""

import re

UNIT = re.compile(r"(?<=\d) (?=(?:%|°|mm|m/s|m|g|V|s|min)(?![\w/]))")


def glued(text: str) -> str:
    """Return a text whose units stay with their numbers when lines are broken."""
    return UNIT.sub("\u00a0", text)
