"""The aeroplane as outlines and solids."""
