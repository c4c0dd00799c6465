"""What is asked of a newcomer, in order, and what is typed in answer."""
