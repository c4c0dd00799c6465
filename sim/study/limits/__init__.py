"""The search for the aft limit."""
