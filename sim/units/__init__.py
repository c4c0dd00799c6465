"""Units of measure: exact factors, the unit systems of outputs, and how a number is told in one."""
