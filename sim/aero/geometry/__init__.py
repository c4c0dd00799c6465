"""Shapes to panels and strips, and the lattice over them."""
