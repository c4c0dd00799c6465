"""The replay in a window of its own, as a still and as a film."""
