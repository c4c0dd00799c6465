"""Steady spins: found, followed, mapped, and measured as a tunnel does."""
