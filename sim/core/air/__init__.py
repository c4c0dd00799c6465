"""Air: the standard atmosphere, wind and gusts."""
