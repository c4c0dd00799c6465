"""Flights: one, many, what is drawn for each and what is kept of it."""
