"""Level trim, its modes and the departure criteria."""
