"""What CV values mean, alone and together, in words."""
