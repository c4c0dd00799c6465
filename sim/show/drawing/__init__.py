"""The canvas that every figure is drawn on."""
