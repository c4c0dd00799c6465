"""The aeroplane held as in a tunnel: coefficients and forced oscillation."""
