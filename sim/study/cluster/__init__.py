"""Flights on the workers of a Dask cluster."""
