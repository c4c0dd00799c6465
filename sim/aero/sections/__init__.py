"""Forces of a section at every angle: aerofoils, plates, vortices."""
