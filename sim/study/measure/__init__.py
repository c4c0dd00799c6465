"""What measuring something would change of an aft limit."""
