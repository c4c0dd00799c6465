"""Where an aeroplane may balance, aft and forward, in words."""
