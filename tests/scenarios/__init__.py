"""Whole stories of a club, run on the command line: what people did is accounted for without our own code."""
