"""From timed passes over a measured length to speed tables, trims and matched consists."""
