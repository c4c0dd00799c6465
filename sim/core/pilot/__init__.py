"""Pilot: the sticks of a script, the gyro and the controls."""
