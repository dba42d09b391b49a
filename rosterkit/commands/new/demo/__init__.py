"""The demo club: invented engines, runs and readings."""
