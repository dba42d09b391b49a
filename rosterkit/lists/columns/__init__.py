"""What each column is, by its heading and its contents together."""
