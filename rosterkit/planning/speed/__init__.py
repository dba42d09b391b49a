"""From timed runs over a measured length to speed tables, trims and matched consists."""
