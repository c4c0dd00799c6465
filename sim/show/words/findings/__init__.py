"""What came out, and what to do next, in words."""
