"""Where the tables of a sheet stand, and which rows and columns of it are no engines."""
