"""What register values mean, alone and together, in words."""
