"""One model for each table of `aero_tables`, under the name of its file."""
