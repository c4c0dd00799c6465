"""What decides an answer: outcomes, bands and levels of chance."""
