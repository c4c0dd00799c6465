"""Figures, one a file."""
