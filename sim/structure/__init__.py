"""What servos and wing carry along a flight that was flown."""
