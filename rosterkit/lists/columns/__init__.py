"""What each column of a list is, by its heading and its contents together."""
