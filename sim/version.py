"""The version of the program, also where nothing else may be imported."""

__version__ = "0.1.0"
