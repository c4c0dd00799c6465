"""The way from what is flown today to a set-up, step by step."""
