"""The replay in a page."""
