"""The commands: one module each, with a function ``run``; thin layers on the Python API."""
