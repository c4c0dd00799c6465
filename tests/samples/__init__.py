"""Results, cards and flights made for tests, and a browser to look at pages with."""
