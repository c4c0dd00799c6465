"""The flight card."""
