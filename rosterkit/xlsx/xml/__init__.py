"""What the parts are written in: references, areas, tags and values of cells."""
