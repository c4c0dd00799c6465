"""How a range of told numbers is written, so that a minus sign is never taken for a dash."""

MINUS = "-"


def range_cell(low: str, high: str) -> str:
    """Return two told numbers for a cell: "179-190", or "-3 to 24" where one is negative."""
    return f"{low} to {high}" if _negative(low, high) else f"{low}-{high}"


def range_words(low: str, high: str) -> str:
    """Return them for a sentence: "179 to 190", or "from -3 to 24" where one is negative."""
    words = f"{low} to {high}"
    return f"from {words}" if _negative(low, high) else words


def _negative(*ends: str) -> bool:
    return any(end.startswith(MINUS) for end in ends)
