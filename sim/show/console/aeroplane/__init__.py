"""Tables of one aeroplane: bench, power, gyro, spins, landing."""
