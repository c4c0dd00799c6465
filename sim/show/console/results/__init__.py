"""Tables of what a study found."""
