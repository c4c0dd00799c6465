"""Motion: rotation, the rigid body, actuators, and the march in time."""
