"""What the published standards say, as numbers in and numbers out: one module per subject."""
