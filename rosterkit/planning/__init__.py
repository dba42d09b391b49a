"""Plans over plain tables of engines: addresses for a meet, speed tables from timed runs."""
