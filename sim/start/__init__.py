"""A newcomer's way in: what a pilot measures in twenty minutes, made into an aeroplane file."""
