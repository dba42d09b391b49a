"""A row in, CV values out, and back: what to key in, and what CV values mean alone and together."""
