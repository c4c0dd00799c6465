"""The tables of `aero_tables`, read once and typed."""
