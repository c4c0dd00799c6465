"""Forces: strips, separation, wakes, the body, thrust."""
