"""What ends a departure, and from which height, in words."""
