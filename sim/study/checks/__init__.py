"""What a study holds its own answer against."""
