"""Points clicked on a picture made into the geometry of an aeroplane file, or into answers."""
