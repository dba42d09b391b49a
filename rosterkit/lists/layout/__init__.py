"""Where the tables of a sheet stand, and what belongs to none."""
