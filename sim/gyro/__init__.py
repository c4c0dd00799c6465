"""The rate gyro's loop: how much gain each axis stands, by speed and by throttle."""
