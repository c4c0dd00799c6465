"""What a study found, and its numbers as columns."""
