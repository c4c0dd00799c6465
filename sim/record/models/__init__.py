"""One model a kind of JSON: its keys, units and digits."""
