"""Steady flight: trim, a linear model, forces at rest and in a swing."""
