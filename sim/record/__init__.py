"""Everything that is written to be read by a program."""
