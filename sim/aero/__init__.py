"""Tables and plan forms made into strips, bodies and packed aerodynamic arrays."""
