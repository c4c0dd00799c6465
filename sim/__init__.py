"""aftlimit: will this aeroplane depart or spin, and does it come back?"""

__version__ = "0.1.0"
