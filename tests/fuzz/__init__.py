"""Broken files by the thousand: each is refused by file and key, or gives a sound result.

`python -m tests.fuzz` makes thousands of them; the suite a few hundred.
"""
