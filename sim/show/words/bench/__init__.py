"""What is set and looked at before a flight, in words."""
