"""Plans made over a whole roster: speed tables from timed passes, addresses, a meet's moves."""
