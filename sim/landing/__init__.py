"""The landing end: near the ground, what the tail must do there, and gusts on the way in."""
